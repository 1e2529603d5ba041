import type { Vec3 } from '@kinprint/mesh';

export function add(a: Vec3, b: Vec3, times = 1): Vec3 {
  return [a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]];
}

export function minus(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function lengthOf(a: Vec3): number {
  return Math.hypot(a[0], a[1], a[2]);
}

export function unit(a: Vec3): Vec3 {
  const length = lengthOf(a);
  return length > 0 ? [a[0] / length, a[1] / length, a[2] / length] : [0, 0, 1];
}

export function mix(a: Vec3, b: Vec3, share: number): Vec3 {
  return [0, 1, 2].map(k => a[k] * (1 - share) + b[k] * share) as unknown as Vec3;
}
