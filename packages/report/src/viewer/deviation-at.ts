import {
  closestHit,
  closestPoint,
  createFloat64Welder,
  weldFloat64,
  type TriangleTree,
  type Vec3,
} from '@kinprint/mesh';
import { deviationSign } from '../pictures/deviation-sign.ts';
import type { Soup } from './refine.ts';

/** How far each corner of a soup lies from another surface: outward positive, 0 where the two coincide. */
export interface CornerDeviations {
  readonly values_mm: Float32Array;
  readonly most_mm: number;
}

/** Corners between two pauses: some tens of milliseconds. */
const atOnce = 8192;

/**
 * @param center what the soup is about
 * @param pause called again and again, so that the page stays alive
 */
export async function deviationsAt(
  { positions, normals }: Soup,
  center: Vec3,
  tree: TriangleTree,
  within_mm: number,
  pause: () => Promise<void>,
): Promise<CornerDeviations> {
  const corners = positions.length / 3;
  const values_mm = new Float32Array(corners);
  const welder = createFloat64Welder(corners >> 2);
  // Of each place, the first corner that is there.
  const first: number[] = [];
  const hit = closestHit();
  let most_mm = 0;
  let hint = -1;
  for (let k = 0; k < corners; k++) {
    if (k % atOnce === atOnce - 1) await pause();
    const at = 3 * k;
    const place = weldFloat64(welder, positions[at], positions[at + 1], positions[at + 2]);
    if (place < first.length) {
      values_mm[k] = values_mm[first[place]];
      continue;
    }
    first.push(k);
    const p: Vec3 = [positions[at] + center[0], positions[at + 1] + center[1], positions[at + 2] + center[2]];
    closestPoint(tree, ...p, hit, Infinity, hint);
    if (hit.face < 0) continue;
    hint = hit.face;
    const distance = Math.sqrt(hit.distanceSq);
    if (distance <= within_mm) continue;
    values_mm[k] = distance * deviationSign(tree, p, hit, normals, at);
    if (distance > most_mm) most_mm = distance;
  }
  return { values_mm, most_mm };
}
