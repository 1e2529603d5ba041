import { faceOf, isCollapsed, previousEdge } from '../topology/corners.ts';
import type { EdgePairs } from '../topology/edge-pairs.ts';

/**
 * Faces that have the same three corners as an earlier face, in any order; ascending. Faces with two equal corners
 * are not looked at.
 */
export function duplicateFaces(triangles: Uint32Array, pairs: EdgePairs): number[] {
  const { twins, crowded } = pairs;
  const suspects = new Set<number>();
  // Equal faces share all edges: they are twins across the first edge, or that edge has three or more faces.
  for (let h = 0; h < triangles.length; h += 3) {
    const twin = twins[h];
    if (twin < 0 || triangles[previousEdge(h)] !== triangles[previousEdge(twin)]) continue;
    suspects.add(faceOf(h));
    suspects.add(faceOf(twin));
  }
  for (const h of crowded) suspects.add(faceOf(h));
  if (suspects.size === 0) return [];

  const seen = new Set<string>();
  const repeated: number[] = [];
  for (const face of [...suspects].sort((a, b) => a - b)) {
    if (isCollapsed(triangles, face)) continue;
    const key = [...triangles.subarray(3 * face, 3 * face + 3)].sort((a, b) => a - b).join();
    if (seen.has(key)) repeated.push(face);
    else seen.add(key);
  }
  return repeated;
}
