import { bodies, subMesh, type Feature, type Mesh, type Vec3 } from '@kinprint/mesh';
import { principalSpread } from './principal-spread.ts';

/** A few figures of a shape that no motion and no reflection changes: to tell cheaply which shapes may match. */
export interface ShapeSummary {
  readonly area_mm2: number;
  /** Size only; null when the mesh has no volume. */
  readonly volume_mm3: number | null;
  /** Root mean square distances of the surface from its middle along its principal axes, ascending. */
  readonly spread_mm: Vec3;
  /** Diameters of the bores, ascending. */
  readonly bores_mm: readonly number[];
}

/** What pairing must know of a file. */
export interface FileSummary {
  readonly whole: ShapeSummary;
  /** One per body, as `bodies(mesh)` orders them. Empty when there are more than `treeDefaults.bodiesPaired`. */
  readonly bodies: readonly ShapeSummary[];
}

/** Summarizes a shape. `volume` and `features` as measured. Linear in the size. */
export function shapeSummary(mesh: Mesh, volume: number | null, features: readonly Feature[]): ShapeSummary {
  const { area, spread } = principalSpread(mesh);
  const bores = features.flatMap(feature => (feature.kind === 'bore' ? [feature.diameter_mm] : []));
  return {
    area_mm2: area,
    volume_mm3: volume === null ? null : Math.abs(volume),
    spread_mm: spread,
    bores_mm: bores.sort((a, b) => a - b),
  };
}

/**
 * The meshes of a file's bodies, in the order of `bodies(mesh)`; the mesh itself when it is one body.
 */
export function bodyMeshes(mesh: Mesh): Mesh[] {
  const lists = bodies(mesh);
  return lists.length === 1 ? [mesh] : lists.map(faces => subMesh(mesh, faces));
}
