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

/** Those of the surfaces that have a face within the tolerance of a point. */
export function nearOnes(point: Point, surfaces: BothSurfaces, of: Surfaces): Surfaces {
  const first = (of & 1) !== 0 && isNear(point, surfaces, 0) ? 1 : 0;
  const second = (of & 2) !== 0 && isNear(point, surfaces, 1) ? 2 : 0;
  return (first | second) as Surfaces;
}

/**
 * Those of the surfaces that are within the tolerance all over a triangle, by the face found last: the distance to
 * one face, a convex set, is greatest at a corner.
 */
export function nearAllOver([a, b, c]: Corners, surfaces: BothSurfaces, of: Surfaces): Surfaces {
  const covers = (s: 0 | 1): boolean => {
    const face = surfaces.lastNear[s];
    return [a, b, c].every(corner => isNearFace(corner, surfaces, s, face));
  };
  return (((of & 1) !== 0 && covers(0) ? 1 : 0) | ((of & 2) !== 0 && covers(1) ? 2 : 0)) as Surfaces;
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
