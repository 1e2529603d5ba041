import { distanceSqToTriangle, foot } from '../tree/point-triangle.ts';

/** Where the last `triangleDistanceSq` found the nearest points: x, y, z on the first, on the second triangle. */
export const nearest = new Float64Array(6);

/**
 * Squared distance of two triangles that do not cross, corners at offsets into `v`; the nearest points go to
 * `nearest`. The distance is met at a corner of one or between two edges: six distances of points from triangles and
 * nine of segments are compared. For triangles that cross the result is too large.
 *
 * @param limit squared distance from which on the exact value does not matter; Infinity is returned then
 */
export function triangleDistanceSq(
  v: Float64Array,
  a: readonly [number, number, number],
  b: readonly [number, number, number],
  limit: number,
): number {
  let best = limit;
  for (let i = 0; i < 3; i++) {
    const p = a[i];
    const d = distanceSqToTriangle(v, b[0], b[1], b[2], v[p], v[p + 1], v[p + 2]);
    if (d < best) {
      best = d;
      for (let k = 0; k < 3; k++) {
        nearest[k] = v[p + k];
        nearest[3 + k] = foot[k];
      }
    }
    const q = b[i];
    const e = distanceSqToTriangle(v, a[0], a[1], a[2], v[q], v[q + 1], v[q + 2]);
    if (e < best) {
      best = e;
      for (let k = 0; k < 3; k++) {
        nearest[k] = foot[k];
        nearest[3 + k] = v[q + k];
      }
    }
  }
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const d = crossingDistanceSq(v, a[i], a[(i + 1) % 3], b[j], b[(j + 1) % 3], best);
      if (d < best) best = d;
    }
  }
  return best < limit ? best : Infinity;
}

/**
 * Squared distance of two segments where it lies inside both (ends are covered by the distances of corners); writes
 * `nearest` when below `best`.
 */
function crossingDistanceSq(
  v: Float64Array,
  a: number,
  b: number,
  c: number,
  d: number,
  best: number,
): number {
  const ux = v[b] - v[a];
  const uy = v[b + 1] - v[a + 1];
  const uz = v[b + 2] - v[a + 2];
  const wx = v[d] - v[c];
  const wy = v[d + 1] - v[c + 1];
  const wz = v[d + 2] - v[c + 2];
  const rx = v[c] - v[a];
  const ry = v[c + 1] - v[a + 1];
  const rz = v[c + 2] - v[a + 2];
  const nx = uy * wz - uz * wy;
  const ny = uz * wx - ux * wz;
  const nz = ux * wy - uy * wx;
  const nn = nx * nx + ny * ny + nz * nz;
  const h = rx * nx + ry * ny + rz * nz;
  if (!(h * h < best * nn)) return Infinity;
  // Cramer's rule on the common perpendicular.
  const s = ((ry * wz - rz * wy) * nx + (rz * wx - rx * wz) * ny + (rx * wy - ry * wx) * nz) / nn;
  const t = ((ry * uz - rz * uy) * nx + (rz * ux - rx * uz) * ny + (rx * uy - ry * ux) * nz) / nn;
  if (!(s >= 0 && s <= 1 && t >= 0 && t <= 1)) return Infinity;
  nearest[0] = v[a] + s * ux;
  nearest[1] = v[a + 1] + s * uy;
  nearest[2] = v[a + 2] + s * uz;
  nearest[3] = v[c] + t * wx;
  nearest[4] = v[c + 1] + t * wy;
  nearest[5] = v[c + 2] + t * wz;
  return (h * h) / nn;
}
