import type { Vec3 } from '@kinprint/mesh';

export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function minus(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** The vector at length 1; null for one without a direction. */
export function unit(a: Vec3): Vec3 | null {
  const length = Math.hypot(...a);
  return length > 0 && Number.isFinite(length) ? [a[0] / length, a[1] / length, a[2] / length] : null;
}

/** Length of the part of `v` across the unit vector `n`. */
export function across(v: Vec3, n: Vec3): number {
  const along = dot(v, n);
  return Math.hypot(v[0] - along * n[0], v[1] - along * n[1], v[2] - along * n[2]);
}
