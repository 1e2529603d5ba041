import type { Mesh, Vec3 } from '@kinprint/mesh';

/**
 * How often the surface winds around a point: 1 inside a solid, 0 outside, −1 inside one turned inside out.
 *
 * Sum of the signed solid angles of the faces (van Oosterom and Strackee, IEEE Transactions on Biomedical
 * Engineering BME-30(2):125–126, 1983). Linear in the faces; on the surface itself the value means nothing.
 * With `shellOf` only the faces of one shell count.
 */
export function windingNumber(
  mesh: Mesh,
  point: Vec3,
  shellOf: Uint32Array | null = null,
  shell = 0,
): number {
  const { positions, triangles } = mesh;
  const [px, py, pz] = point;
  let sum = 0;
  for (let i = 0, f = 0; i < triangles.length; i += 3, f++) {
    if (shellOf !== null && shellOf[f] !== shell) continue;
    const a = 3 * triangles[i];
    const b = 3 * triangles[i + 1];
    const c = 3 * triangles[i + 2];
    const ax = positions[a] - px;
    const ay = positions[a + 1] - py;
    const az = positions[a + 2] - pz;
    const bx = positions[b] - px;
    const by = positions[b + 1] - py;
    const bz = positions[b + 2] - pz;
    const cx = positions[c] - px;
    const cy = positions[c + 1] - py;
    const cz = positions[c + 2] - pz;
    const la = Math.sqrt(ax * ax + ay * ay + az * az);
    const lb = Math.sqrt(bx * bx + by * by + bz * bz);
    const lc = Math.sqrt(cx * cx + cy * cy + cz * cz);
    const det = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    const dot =
      la * lb * lc +
      (ax * bx + ay * by + az * bz) * lc +
      (bx * cx + by * cy + bz * cz) * la +
      (cx * ax + cy * ay + cz * az) * lb;
    sum += Math.atan2(det, dot);
  }
  return sum / (2 * Math.PI);
}
