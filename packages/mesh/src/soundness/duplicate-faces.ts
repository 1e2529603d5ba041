import { faceOf, isCollapsed, previousEdge } from '../topology/corners.ts';
import type { EdgePairs } from '../topology/edge-pairs.ts';

/**
 * Faces that have the same three corners as an earlier face, in any order; ascending. Faces with two equal corners
 * are not looked at.
 */
export function duplicateFaces(triangles: Uint32Array, pairs: EdgePairs): number[] {
  const { twins, crowded } = pairs;
  const suspect = new Uint8Array(triangles.length / 3);
  let any = crowded.length > 0;
  // Equal faces share all edges: they are twins across the first edge, or that edge has three or more faces.
  for (let h = 0; h < triangles.length; h += 3) {
    const twin = twins[h];
    if (twin < 0 || triangles[h + 2] !== triangles[previousEdge(twin)]) continue;
    suspect[faceOf(h)] = 1;
    suspect[faceOf(twin)] = 1;
    any = true;
  }
  if (!any) return [];
  for (const h of crowded) suspect[faceOf(h)] = 1;

  /** The highest corners seen with the two lower ones. */
  const seen = new Map<number, Set<number>>();
  const repeated: number[] = [];
  for (let face = 0; face < suspect.length; face++) {
    if (suspect[face] === 0 || isCollapsed(triangles, face)) continue;
    const [low, middle, high] = triangles.slice(3 * face, 3 * face + 3).sort();
    const key = low * SPREAD + middle;
    const highs = seen.get(key);
    if (highs === undefined) seen.set(key, new Set([high]));
    else if (highs.has(high)) repeated.push(face);
    else highs.add(high);
  }
  return repeated;
}

/** Square root of 2⁵³, rounded down: two vertex indices below it make one exact double. */
const SPREAD = 94_906_265;
