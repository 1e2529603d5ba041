import { InputError, type Measurement, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { defaults, findChanges, type Kernel, type RemixChanges } from '@kinprint/solid';
import type { Region } from '../comparison.ts';
import { deviation } from '../deviation/deviation.ts';
import { carryFeature } from '../features/carry.ts';
import { describePiece } from '../regions/describe.ts';
import type { PlacedRemix } from './place-remix.ts';
import { tessellatedAnew } from './tessellated.ts';

/** What a remix changed: as solids, and as a maintainer would tell it. */
export interface ToldChanges extends RemixChanges {
  readonly regions: readonly Region[];
}

const nothing: ToldChanges = { pieces: [], notes: [], regions: [] };

/**
 * What a remix, laid over its base, added and removed.
 *
 * @throws InputError as `findChanges` does; `combine-scattered` where there are too many pieces
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
  if (regions.length > defaults.maxCombinedPieces) throw scattered(regions);
  return { ...found, regions };
}

function scattered(regions: readonly Region[]): InputError {
  const facets = tessellatedAnew(regions);
  const about = (mm: number) => Number(mm.toPrecision(2));
  return new InputError(
    'combine-scattered',
    `It differs from the base in ${regions.length} places` +
      (facets === null
        ? ', which are too many to be told apart.'
        : `, ${facets.places} of them nowhere deeper than ${about(facets.within_mm)} mm, as surfaces do that were tessellated anew.`),
    facets === null
      ? 'Say with --tolerance up to how many millimeters surfaces count as the same, or name the base it was made from.'
      : `Let what is that near count as the same: --tolerance ${facets.tolerance_mm}. Changes that are no deeper are then left out.`,
  );
}

/**
 * The volume of a mesh that was measured.
 *
 * @throws InputError `combine-empty`, `combine-no-volume`
 */
export function volumeOf(measurement: Measurement): number {
  if (measurement.volume_mm3 !== null) return Math.abs(measurement.volume_mm3);
  if (measurement.triangles === 0) {
    throw new InputError(
      'combine-empty',
      'It has no faces.',
      'Export the part again from the program it comes from, or name another file.',
    );
  }
  throw new InputError(
    'combine-no-volume',
    measurement.notes.find(note => note.about === 'volume_mm3')?.text ?? 'The mesh has no volume.',
    'Close the surface in the program it comes from (kinprint measure says where it is open) and try again.',
  );
}
