import type { Vec3 } from '../types.ts';

/** Two unit vectors u, v that make a right-handed frame with the unit vector `axis` (u × v = axis). */
export function frameOf(axis: Vec3): { readonly u: Vec3; readonly v: Vec3 } {
  const [x, y, z] = axis;
  // Away from the smallest component: never nearly parallel.
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  const az = Math.abs(z);
  let u: [number, number, number];
  if (ax <= ay && ax <= az) u = [0, -z, y];
  else if (ay <= az) u = [z, 0, -x];
  else u = [-y, x, 0];
  const length = Math.hypot(u[0], u[1], u[2]);
  u = [u[0] / length, u[1] / length, u[2] / length];
  return { u, v: cross(axis, u) };
}

export function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** Unit vector; `null` when the length is 0 or not finite. */
export function unit(a: Vec3): Vec3 | null {
  const length = Math.hypot(a[0], a[1], a[2]);
  return length > 0 && Number.isFinite(length) ? [a[0] / length, a[1] / length, a[2] / length] : null;
}

/**
 * Axis with a canonical sign: components below 2e-6 (what 32-bit coordinates cannot tell from 0) become 0, and the
 * first other one is positive.
 */
export function canonicalAxis(axis: Vec3): Vec3 {
  const clean = axis.map(c => (Math.abs(c) < 2e-6 ? 0 : c)) as [number, number, number];
  const first = clean.find(c => c !== 0) ?? 1;
  const length = Math.hypot(...clean) * Math.sign(first);
  return [clean[0] / length + 0, clean[1] / length + 0, clean[2] / length + 0];
}
