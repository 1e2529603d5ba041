import type { Vec3 } from '@kinprint/mesh';

/** `3.20`; tiny values keep two digits. */
export function mm(value: number): string {
  const fixed = value !== 0 && Math.abs(value) < 0.005 ? value.toPrecision(2) : value.toFixed(2);
  return fixed.replace(/^-/, '−');
}

/** `+96.9` or `−210.9`. */
export function signedVolume(value: number): string {
  return `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(1)}`;
}

/** `(1.0, 2.0, −3.0)`. */
export function place(at: Vec3): string {
  const tenth = (v: number) => (Math.abs(v) < 0.05 ? '0.0' : v.toFixed(1).replace(/^-/, '−'));
  return `(${at.map(tenth).join(', ')})`;
}
