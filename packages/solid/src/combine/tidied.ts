import type { Mesh } from '@kinprint/mesh';
import { withoutNeedles } from './without-needles.ts';
import { withoutShortEdges } from './without-short-edges.ts';

/** What booleans leave where surfaces coincide but for rounding is tidied up: edges and faces smaller than `within_mm`. */
export function tidied(mesh: Mesh, within_mm: number): Mesh {
  let left = mesh;
  for (let round = 0; round < maxRounds; round++) {
    const next = withoutNeedles(withoutShortEdges(left, within_mm), within_mm);
    const same = next.triangles.every((v, h) => v === left.triangles[h]);
    left = next;
    if (same) break;
  }
  return left;
}

/** Each round may free what the other kind stood in the way of. Common practice, no source. */
const maxRounds = 4;
