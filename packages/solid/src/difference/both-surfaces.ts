import { buildTree, closestHit, closestPoint, distanceSqToTriangle, type Mesh } from '@kinprint/mesh';
import type { TriangleTree } from '@kinprint/mesh';

export type Point = readonly [number, number, number];
export type Corners = readonly [Point, Point, Point];

/** The surfaces of both meshes, ready for distance queries. */
export interface BothSurfaces {
  readonly trees: readonly [TriangleTree, TriangleTree];
  readonly tolerance_mm: number;
  /** Per surface the slot of the last face found within the tolerance, −1 for none: the next point is often near it. */
  readonly lastNear: [number, number];
}

/** Some of the two surfaces: bit 0 and bit 1. */
export type Surfaces = 0 | 1 | 2 | 3;
export const both: Surfaces = 3;

export function bothSurfaces(before: Mesh, after: Mesh, tolerance_mm: number): BothSurfaces {
  return { trees: [buildTree(before), buildTree(after)], tolerance_mm, lastNear: [-1, -1] };
}

/** Whether a point is farther than the tolerance from one of the surfaces. */
export function isDeep(point: Point, surfaces: BothSurfaces, of: Surfaces): boolean {
  return ((of & 1) !== 0 && !isNear(point, surfaces, 0)) || ((of & 2) !== 0 && !isNear(point, surfaces, 1));
}

/**
 * Those of the surfaces from which some point of a triangle may be farther than the tolerance. The distance to one
 * face, a convex set, is greatest at a corner; so the face that is near the middle tells for the whole triangle.
 */
export function mayBeDeep(middle: Point, corners: Corners, surfaces: BothSurfaces, of: Surfaces): Surfaces {
  let left = of;
  for (const s of [0, 1] as const) {
    const bit = s === 0 ? 1 : 2;
    if ((of & bit) === 0 || !isNear(middle, surfaces, s)) continue;
    const face = surfaces.lastNear[s];
    if (corners.every(corner => isNearFace(corner, surfaces, s, face))) left = (left & ~bit) as Surfaces;
  }
  return left;
}

const hit = closestHit();

function isNear(point: Point, surfaces: BothSurfaces, s: 0 | 1): boolean {
  const { trees, tolerance_mm, lastNear } = surfaces;
  if (lastNear[s] >= 0 && isNearFace(point, surfaces, s, lastNear[s])) return true;
  closestPoint(trees[s], point[0], point[1], point[2], hit, tolerance_mm * tolerance_mm);
  if (hit.face < 0) return false;
  lastNear[s] = hit.slot;
  return true;
}

function isNearFace(point: Point, { trees, tolerance_mm }: BothSurfaces, s: 0 | 1, slot: number): boolean {
  const { vertices, corners } = trees[s];
  const [a, b, c] = [3 * corners[3 * slot], 3 * corners[3 * slot + 1], 3 * corners[3 * slot + 2]];
  return distanceSqToTriangle(vertices, a, b, c, point[0], point[1], point[2]) < tolerance_mm * tolerance_mm;
}
