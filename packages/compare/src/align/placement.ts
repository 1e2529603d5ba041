import type { Vec3 } from '@kinprint/mesh';
import type { Alignment } from '../comparison.ts';

/**
 * An affine map of BEFORE into AFTER's frame while it is searched: 12 numbers, the three rows of `[L | t]`.
 * Plain and small, because the search makes thousands.
 */
export type Placement = Float64Array;

export function identityPlacement(): Placement {
  return Float64Array.of(1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0);
}

/** The map with linear part `l` (9 numbers, rows first) that takes `from` to `to`. */
export function placementThrough(l: ArrayLike<number>, from: Vec3, to: Vec3): Placement {
  const m = new Float64Array(12);
  for (let r = 0; r < 3; r += 1) {
    const [a, b, c] = [l[3 * r], l[3 * r + 1], l[3 * r + 2]];
    m[4 * r] = a;
    m[4 * r + 1] = b;
    m[4 * r + 2] = c;
    m[4 * r + 3] = to[r] - (a * from[0] + b * from[1] + c * from[2]);
  }
  return m;
}

export function applyPlacement(m: Placement, p: Vec3): Vec3 {
  return [
    m[0] * p[0] + m[1] * p[1] + m[2] * p[2] + m[3],
    m[4] * p[0] + m[5] * p[1] + m[6] * p[2] + m[7],
    m[8] * p[0] + m[9] * p[1] + m[10] * p[2] + m[11],
  ];
}

/** `b ∘ a`: first `a`, then `b`. */
export function composePlacements(b: Placement, a: Placement): Placement {
  const m = new Float64Array(12);
  for (let r = 0; r < 12; r += 4) {
    for (let c = 0; c < 4; c += 1) m[r + c] = b[r] * a[c] + b[r + 1] * a[4 + c] + b[r + 2] * a[8 + c];
    m[r + 3] += b[r + 3];
  }
  return m;
}

/** The nine numbers of the linear part, rows first. */
export function linearOf(m: Placement): number[] {
  return [m[0], m[1], m[2], m[4], m[5], m[6], m[8], m[9], m[10]];
}

export function determinantOf(m: Placement): number {
  return determinant3(linearOf(m));
}

export function determinant3(l: ArrayLike<number>): number {
  return (
    l[0] * (l[4] * l[8] - l[5] * l[7]) -
    l[1] * (l[3] * l[8] - l[5] * l[6]) +
    l[2] * (l[3] * l[7] - l[4] * l[6])
  );
}

/** The inverse; the linear part must be regular, as every placement of the search is. */
export function invertPlacement(m: Placement): Placement {
  const l = linearOf(m);
  const d = 1 / determinant3(l);
  const inverse = [
    (l[4] * l[8] - l[5] * l[7]) * d,
    (l[2] * l[7] - l[1] * l[8]) * d,
    (l[1] * l[5] - l[2] * l[4]) * d,
    (l[5] * l[6] - l[3] * l[8]) * d,
    (l[0] * l[8] - l[2] * l[6]) * d,
    (l[2] * l[3] - l[0] * l[5]) * d,
    (l[3] * l[7] - l[4] * l[6]) * d,
    (l[1] * l[6] - l[0] * l[7]) * d,
    (l[0] * l[4] - l[1] * l[3]) * d,
  ];
  return placementThrough(inverse, [m[3], m[7], m[11]], [0, 0, 0]);
}

/** The linear part turned back and forth: transpose of nine numbers, rows first. */
export function transpose3(l: ArrayLike<number>): number[] {
  return [l[0], l[3], l[6], l[1], l[4], l[7], l[2], l[5], l[8]];
}

export function multiply3(a: ArrayLike<number>, b: ArrayLike<number>): number[] {
  const out: number[] = [];
  for (let r = 0; r < 9; r += 3) {
    for (let c = 0; c < 3; c += 1) out.push(a[r] * b[c] + a[r + 1] * b[3 + c] + a[r + 2] * b[6 + c]);
  }
  return out;
}

/** As the 4×4 matrix of the result. */
export function matrixOf(m: Placement): Alignment['matrix'] {
  return [
    [m[0], m[1], m[2], m[3]],
    [m[4], m[5], m[6], m[7]],
    [m[8], m[9], m[10], m[11]],
    [0, 0, 0, 1],
  ];
}

export function isFinitePlacement(m: Placement): boolean {
  return m.every(Number.isFinite);
}
