import type { Mesh } from '../types.ts';

/**
 * Signed solid angle, −2π…2π, under which a triangle is seen from (x, y, z); positive when seen from behind.
 *
 * `a`, `b`, `c` are the places of its corners' first coordinates in `v`. Source: van Oosterom and Strackee, IEEE
 * Transactions on Biomedical Engineering BME-30(2):125–126, 1983.
 */
export function solidAngle(
  v: Mesh['positions'],
  a: number,
  b: number,
  c: number,
  x: number,
  y: number,
  z: number,
): number {
  const ax = v[a] - x;
  const ay = v[a + 1] - y;
  const az = v[a + 2] - z;
  const bx = v[b] - x;
  const by = v[b + 1] - y;
  const bz = v[b + 2] - z;
  const cx = v[c] - x;
  const cy = v[c + 1] - y;
  const cz = v[c + 2] - z;
  const la = Math.sqrt(ax * ax + ay * ay + az * az);
  const lb = Math.sqrt(bx * bx + by * by + bz * bz);
  const lc = Math.sqrt(cx * cx + cy * cy + cz * cz);
  const volume = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  const dots =
    la * lb * lc +
    (ax * bx + ay * by + az * bz) * lc +
    (ax * cx + ay * cy + az * cz) * lb +
    (bx * cx + by * cy + bz * cz) * la;
  return 2 * Math.atan2(volume, dots);
}
