import { type Mesh, solidAngle, type Vec3 } from '@kinprint/mesh';

/**
 * How often the surface winds around a point: 1 inside a solid, 0 outside, −1 inside one turned inside out.
 *
 * Sum of the signed solid angles of the faces. Linear in the faces; on the surface itself the value means nothing.
 * With `shellOf` only the faces of one shell count.
 */
export function windingNumber(
  mesh: Mesh,
  point: Vec3,
  shellOf: Uint32Array | null = null,
  shell = 0,
): number {
  const { positions, triangles } = mesh;
  let sum = 0;
  for (let i = 0, f = 0; i < triangles.length; i += 3, f++) {
    if (shellOf !== null && shellOf[f] !== shell) continue;
    sum += solidAngle(
      positions,
      3 * triangles[i],
      3 * triangles[i + 1],
      3 * triangles[i + 2],
      point[0],
      point[1],
      point[2],
    );
  }
  return sum / (4 * Math.PI);
}
