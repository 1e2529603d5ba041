import { sameTolerance } from '@kinprint/compare';
import { pairEdges, type Mesh, type Vec3 } from '@kinprint/mesh';
import { packMeshes } from '../geometry/pack.ts';
import { axisBounds, diagonalOf } from '../pictures/axis-bounds.ts';
import { standApart, type ChangeSubject } from '../pictures/change-subject.ts';
import { regionWords } from '../pictures/change-words.ts';
import type { PartRegion, Side } from '../review-page/part-data.ts';
import type { PartSurfaces } from './part-drawing.ts';

/** What a viewer needs of a part that stands alone. */
export function surfacesAlone(mesh: Mesh, side: Side): PartSurfaces {
  const tolerance_mm = sameTolerance(diagonalOf(axisBounds([mesh])));
  const closed = isClosed(mesh);
  return {
    sides: [side],
    closed: { before: closed, after: closed },
    apart: false,
    within_mm: tolerance_mm,
    regions: [],
    geometry: packMeshes([mesh], tolerance_mm),
  };
}

/** What a viewer needs of a change. */
export function changeSurfaces(subject: ChangeSubject): PartSurfaces {
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
    geometry,
  };
}

/** Whether every directed edge has its opposite, so that the surface encloses material. */
function isClosed(mesh: Mesh): boolean {
  return mesh.triangles.length > 0 && !pairEdges(mesh).twins.includes(-1);
}
