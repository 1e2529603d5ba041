import { faceAdjacency, findFeatures, type Mesh, type Plane, type Vec3 } from '@kinprint/mesh';

/** Planes below this share of the surface are grains of a curved face as often as faces of their own. No source. */
export const leastPlaneShare = 1e-4;
const mostPlanes = 5_000;
const nearest = 60;
const largest = 200;

/**
 * The largest planes of a mesh, and those that are nearest to some points: where a manifest says that there is a face
 * or a slot, however small it is beside others.
 */
export function planesNear(mesh: Mesh, points: readonly Vec3[]): Plane[] {
  const planes = findFeatures(mesh, faceAdjacency(mesh), {
    planes: mostPlanes,
    planeShare: leastPlaneShare,
  }).filter(feature => feature.kind === 'plane');
  const wanted = new Set(planes.slice(0, largest));
  for (const point of points)
    for (const plane of planes.toSorted((a, b) => distance(a, point) - distance(b, point)).slice(0, nearest))
      wanted.add(plane);
  return planes.filter(plane => wanted.has(plane));
}

/** To the middle, less the radius of a disk of the same area: 0 for a point within that ball. */
function distance({ at_mm, area_mm2 }: Plane, [x, y, z]: Vec3): number {
  const apart = Math.hypot(at_mm[0] - x, at_mm[1] - y, at_mm[2] - z);
  return Math.max(0, apart - Math.sqrt(area_mm2 / Math.PI));
}
