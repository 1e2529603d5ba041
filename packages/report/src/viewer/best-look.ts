import { raycast, rayHit, type TriangleTree, type Vec3 } from '@kinprint/mesh';
import { directions } from '../pictures/directions.ts';
import type { Surface } from '../pictures/surface.ts';
import { unit } from './vector.ts';

/** Faces that are asked; more would not change the choice. */
const asked = 80;

/**
 * The direction from which most of a piece's surface can be seen past the part: each face counts by its area as it is
 * seen, if a ray from its middle to the eye meets nothing.
 *
 * Among directions that show as much, to within a tenth, the earlier one of `directions` is better; those that look along
 * the axes come last here, since they show no depth.
 */
export function bestLook(piece: Surface, part: TriangleTree, size_mm: number): Vec3 {
  const { positions: p, triangles: t } = piece.mesh;
  const faces = t.length / 3;
  const step = Math.max(1, Math.floor(faces / asked));
  const start = 1e-4 * size_mm;
  const hit = rayHit();
  const seen = (toward: Vec3): number => {
    let sum = 0;
    for (let f = 0; f < faces; f += step) {
      const k = 3 * f;
      const n: Vec3 = [piece.normals[k], piece.normals[k + 1], piece.normals[k + 2]];
      const facing = n[0] * toward[0] + n[1] * toward[1] + n[2] * toward[2];
      if (facing <= 0.05) continue;
      const middle = (axis: number): number =>
        (p[3 * t[k] + axis] + p[3 * t[k + 1] + axis] + p[3 * t[k + 2] + axis]) / 3 + start * toward[axis];
      raycast(part, middle(0), middle(1), middle(2), ...toward, hit);
      if (hit.face < 0) sum += facing * piece.areas[f];
    }
    return sum;
  };
  const candidates = [...directions.slice(6), ...directions.slice(0, 6)].map(({ toward }) => unit(toward));
  let best = { toward: candidates[0], sum: -1 };
  for (const toward of candidates) {
    const sum = seen(toward);
    if (sum > 1.1 * best.sum || best.sum < 0) best = { toward, sum };
  }
  return best.toward;
}
