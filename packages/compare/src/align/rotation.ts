import type { Vec3 } from '@kinprint/mesh';
import { determinant3, multiply3, transpose3 } from './placement.ts';

/** Angle (radians, 0…π) and unit axis of a rotation matrix (nine numbers, rows first); axis null without rotation. */
export function angleAxis(r: ArrayLike<number>): { angle: number; axis: Vec3 | null } {
  const x = r[7] - r[5];
  const y = r[2] - r[6];
  const z = r[3] - r[1];
  const sine = Math.hypot(x, y, z) / 2;
  const cosine = (r[0] + r[4] + r[8] - 1) / 2;
  const angle = Math.atan2(sine, cosine);
  if (angle < 1e-12) return { angle: 0, axis: null };
  if (sine > 1e-6) return { angle, axis: [x / (2 * sine), y / (2 * sine), z / (2 * sine)] };
  // A half turn: R = 2·a·aᵀ − I; the column with the largest diagonal entry carries the axis.
  const k = r[0] >= r[4] && r[0] >= r[8] ? 0 : r[4] >= r[8] ? 1 : 2;
  const column: Vec3 = [r[k] + (k === 0 ? 1 : 0), r[3 + k] + (k === 1 ? 1 : 0), r[6 + k] + (k === 2 ? 1 : 0)];
  const length = Math.hypot(...column);
  return { angle, axis: [column[0] / length, column[1] / length, column[2] / length] };
}

/** Rotation by the vector `w`: its direction is the axis, its length the angle (Rodrigues' formula). */
export function rotationOf(w: Vec3): number[] {
  const angle = Math.hypot(...w);
  if (angle === 0) return [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const [x, y, z] = [w[0] / angle, w[1] / angle, w[2] / angle];
  const s = Math.sin(angle);
  const half = Math.sin(angle / 2);
  const c = 2 * half * half;
  return [
    1 - c * (y * y + z * z),
    c * x * y - s * z,
    c * x * z + s * y,
    c * x * y + s * z,
    1 - c * (x * x + z * z),
    c * y * z - s * x,
    c * x * z - s * y,
    c * y * z + s * x,
    1 - c * (x * x + y * y),
  ];
}

/** The smallest rotation that takes unit vector `a` to unit vector `b`. */
export function smallestRotation(a: Vec3, b: Vec3): number[] {
  const axis = cross(a, b);
  const sine = Math.hypot(...axis);
  const angle = Math.atan2(sine, dot(a, b));
  if (sine > 1e-12)
    return rotationOf([(axis[0] / sine) * angle, (axis[1] / sine) * angle, (axis[2] / sine) * angle]);
  if (angle < 1) return [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const p = perpendicular(a);
  return rotationOf([p[0] * Math.PI, p[1] * Math.PI, p[2] * Math.PI]);
}

/** The 24 rotations that take the axes to axes. */
export const axisRotations: readonly (readonly number[])[] = signedPermutations().filter(
  l => determinant3(l) > 0,
);

function signedPermutations(): number[][] {
  const orders = [[0, 1, 2], [1, 2, 0], [2, 0, 1], [0, 2, 1], [2, 1, 0], [1, 0, 2]]; // prettier-ignore
  const all: number[][] = [];
  for (const order of orders) {
    for (let signs = 0; signs < 8; signs += 1) {
      const l = new Array<number>(9).fill(0);
      order.forEach((column, row) => (l[3 * row + column] = (signs >> row) & 1 ? -1 : 1));
      all.push(l);
    }
  }
  return all;
}

/** The reflections at the planes x = 0, y = 0, z = 0 and at the origin. */
export const reflections: readonly (readonly number[])[] = [
  [-1, 0, 0, 0, 1, 0, 0, 0, 1],
  [1, 0, 0, 0, -1, 0, 0, 0, 1],
  [1, 0, 0, 0, 1, 0, 0, 0, -1],
  [-1, 0, 0, 0, -1, 0, 0, 0, -1],
];

/**
 * The rotation nearest to a matrix that is one but for rounding: one Newton step after another of the polar
 * decomposition, R ← (R + R⁻ᵀ)/2. Source: Higham, SIAM J. Sci. Stat. Comput. 7 (1986).
 */
export function nearestRotation(l: ArrayLike<number>): number[] {
  let r = Array.from(l);
  for (let k = 0; k < 40; k += 1) {
    const d = determinant3(r);
    if (!(Math.abs(d) > 1e-300)) return r;
    const c = cofactors(r);
    const next = r.map((value, i) => (value + c[i] / d) / 2);
    const change = Math.max(...next.map((value, i) => Math.abs(value - r[i])));
    r = next;
    if (change < 1e-15) break;
  }
  return r;
}

function cofactors(l: ArrayLike<number>): number[] {
  const row = (i: number): Vec3 => [l[3 * i], l[3 * i + 1], l[3 * i + 2]];
  return [...cross(row(1), row(2)), ...cross(row(2), row(0)), ...cross(row(0), row(1))];
}

/**
 * The rotation (or, when the frames differ in hand, the reflection) that takes one orthonormal frame to another.
 * Frames are three unit vectors as rows.
 */
export function frameToFrame(from: ArrayLike<number>, to: ArrayLike<number>): number[] {
  return multiply3(transpose3(to), from);
}

export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
export function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
export function subtract(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
/** Length 1, or null for a vector without direction. */
export function unit(v: Vec3): Vec3 | null {
  const length = Math.hypot(...v);
  return length > 0 && Number.isFinite(length) ? [v[0] / length, v[1] / length, v[2] / length] : null;
}
/** Some unit vector at right angles to a unit vector; the same one every time. */
export function perpendicular(a: Vec3): Vec3 {
  const k =
    Math.abs(a[0]) <= Math.abs(a[1]) && Math.abs(a[0]) <= Math.abs(a[2])
      ? 0
      : Math.abs(a[1]) <= Math.abs(a[2])
        ? 1
        : 2;
  const e: Vec3 = [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0];
  return unit(cross(a, e)) ?? e;
}
