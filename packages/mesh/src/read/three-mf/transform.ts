import type { Transform } from './model.ts';

export const identity: Transform = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0);

/** First `inner`, then `outer`: the matrix product in this order, since points are row vectors. */
export function compose(inner: Transform, outer: Transform): Transform {
  if (inner === identity) return outer;
  if (outer === identity) return inner;
  const result = new Float64Array(12);
  for (let row = 0; row < 4; row++) {
    for (let column = 0; column < 3; column++) {
      let sum = row === 3 ? outer[9 + column] : 0;
      for (let k = 0; k < 3; k++) sum += inner[3 * row + k] * outer[3 * k + column];
      result[3 * row + column] = sum;
    }
  }
  return result;
}

/** Negative when the map mirrors, 0 when it flattens. */
export function determinant(m: Transform): number {
  return (
    m[0] * (m[4] * m[8] - m[5] * m[7]) -
    m[1] * (m[3] * m[8] - m[5] * m[6]) +
    m[2] * (m[3] * m[7] - m[4] * m[6])
  );
}

/** Coordinate `axis` of the image of a point. */
export function mapped(m: Transform, x: number, y: number, z: number, axis: number): number {
  return x * m[axis] + y * m[3 + axis] + z * m[6 + axis] + m[9 + axis];
}
