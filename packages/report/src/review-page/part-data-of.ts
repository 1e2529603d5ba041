import { sameTolerance } from '@kinprint/compare';
import { pairEdges, type Mesh, type Vec3 } from '@kinprint/mesh';
import type { PartReview } from '@kinprint/registry';
import { packMeshes } from '../geometry/pack.ts';
import { axisBounds, diagonalOf } from '../pictures/axis-bounds.ts';
import { standApart, type ChangeSubject } from '../pictures/change-picture.ts';
import { regionWords } from '../pictures/change-words.ts';
import { placesOf } from './places.ts';
import type { PartData, PartRegion, Side } from './part-data.ts';
import { changeOf, type PartShapes } from './part-shapes.ts';

/** What a viewer needs of a part; null where there is nothing to show. */
export function partDataOf(part: PartReview, shapes: PartShapes, title: string): PartData | null {
  const change = changeOf(part, shapes, title);
  if (change !== null) return changeData(part, change);
  const sides = (['before', 'after'] as const).flatMap(side => {
    const mesh = shapes[side];
    return mesh === undefined ? [] : [{ side, mesh }];
  });
  if (sides.length === 0) return null;
  const meshes = sides.map(({ mesh }) => mesh);
  const tolerance_mm = sameTolerance(diagonalOf(axisBounds(meshes)));
  return {
    sides: sides.map(({ side }) => side),
    closed: { before: isClosed(shapes.before), after: isClosed(shapes.after) },
    apart: sides.length > 1,
    within_mm: tolerance_mm,
    regions: [],
    places: placesOf(part),
    geometry: packMeshes(meshes, tolerance_mm),
  };
}

function changeData(part: PartReview, subject: ChangeSubject): PartData {
  const { comparison: c, meshes } = subject;
  const apart = standApart(subject);
  const before = apart ? meshes.before : (meshes.carried ?? meshes.before);
  const pieces = meshes.regions ?? [];
  const size_mm = diagonalOf(axisBounds([before, meshes.after]));
  const sides: Side[] = ['before', 'after'];
  const geometry = packMeshes([before, meshes.after, ...pieces], c.tolerance_mm);
  return {
    sides,
    closed: { before: c.volume.before_mm3 !== null, after: c.volume.after_mm3 !== null },
    apart,
    // As in still pictures, and what rounding to the lattice may do to either surface.
    within_mm: 2 * c.tolerance_mm + 1e-5 * size_mm + 2 * geometry.step_mm,
    regions: c.regions.slice(0, pieces.length).map((region, k): PartRegion => {
      const { min, max } = region.bounds_mm;
      const { what, amount } = regionWords(region, c);
      const extent: Vec3 = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
      return {
        kind: region.kind,
        number: k + 1,
        label: `${what}; ${amount}`,
        center_mm: region.centroid_mm,
        size_mm: Math.hypot(...extent),
      };
    }),
    places: placesOf(part),
    geometry,
  };
}

/** Whether every directed edge has its opposite, so that the surface encloses material. */
function isClosed(mesh: Mesh | undefined): boolean {
  return mesh !== undefined && mesh.triangles.length > 0 && !pairEdges(mesh).twins.includes(-1);
}
