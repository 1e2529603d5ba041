import { isInside, type ClosestHit, type TriangleTree, type Vec3 } from '@kinprint/mesh';

/**
 * On which side of another surface a point of a surface lies: 1 outward, where material came on, −1 inward.
 *
 * It is the side of the surface that the nearest point lies on; where that is across, whether the point lies within the
 * other solid.
 *
 * @param hit of `tree` for the point
 * @param normal of the surface that the point is on, at `at` of the array
 */
export function deviationSign(
  tree: TriangleTree,
  [x, y, z]: Vec3,
  hit: ClosestHit,
  normals: ArrayLike<number>,
  at: number,
): 1 | -1 {
  const [dx, dy, dz] = [x - hit.x, y - hit.y, z - hit.z];
  const along = (dx * normals[at] + dy * normals[at + 1] + dz * normals[at + 2]) / Math.sqrt(hit.distanceSq);
  if (along > 0.3) return 1;
  if (along < -0.3) return -1;
  return isInside(tree, x, y, z) ? -1 : 1;
}
