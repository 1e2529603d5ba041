import { InputError, type Measurement, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { findChanges, type Kernel, type RemixChanges } from '@kinprint/solid';
import type { Region } from '../comparison.ts';
import { deviation } from '../deviation/deviation.ts';
import { carryFeature } from '../features/carry.ts';
import { describePiece } from '../regions/describe.ts';
import type { PlacedRemix } from './place-remix.ts';

/** What a remix changed: as solids, and as a maintainer would tell it. */
export interface ToldChanges extends RemixChanges {
  readonly regions: readonly Region[];
}

const nothing: ToldChanges = { pieces: [], notes: [], regions: [] };

/**
 * What a remix, laid over its base, added and removed.
 *
 * @throws InputError as `findChanges` does
 */
export function remixChanges(
  kernel: Kernel,
  base: { readonly mesh: Mesh; readonly measurement: Measurement; readonly tree: TriangleTree },
  remix: { readonly placed: PlacedRemix; readonly measurement: Measurement; readonly tree: TriangleTree },
  tolerance_mm: number,
): ToldChanges {
  const { placed } = remix;
  if (placed.unchanged) return nothing;
  const found = findChanges(kernel, base.mesh, placed.mesh, tolerance_mm, () =>
    deviation(base.mesh, placed.mesh, { tolerance_mm, treeBefore: base.tree, treeAfter: remix.tree }),
  );
  const features = {
    before: base.measurement.features,
    after: remix.measurement.features.flatMap(feature => carryFeature(feature, placed.alignment) ?? []),
  };
  const regions = found.pieces.map(({ region }, _, { length }) =>
    describePiece(region, region.kind === 'added' ? base.tree : remix.tree, features, length),
  );
  return { ...found, regions };
}

/**
 * The volume of a mesh that was measured.
 *
 * @throws InputError `combine-no-volume`
 */
export function volumeOf(measurement: Measurement): number {
  if (measurement.volume_mm3 !== null) return Math.abs(measurement.volume_mm3);
  throw new InputError(
    'combine-no-volume',
    measurement.notes.find(note => note.about === 'volume_mm3')?.text ?? 'The mesh has no volume.',
    'Close the surface in the program it comes from (kinprint measure says where it is open) and try again.',
  );
}
