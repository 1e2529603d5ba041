import { InputError, type Mesh } from '@kinprint/mesh';
import { defaults } from '../defaults.ts';
import { materialDifference } from '../difference/material-difference.ts';
import { snapOnto } from '../difference/snap.ts';
import type { MaterialOptions, MaterialRegion } from '../difference/types.ts';
import type { Kernel } from '../kernel.ts';
import { cleanParts } from './clean-parts.ts';
import { remembered } from './remembered.ts';
import { undoneBy, type RemixChanges } from './types.ts';

/**
 * What a remix added to the base and removed from it. The remix must stand in the base's frame already.
 *
 * Its vertices within the tolerance of one of the base's count as that vertex, so the pieces end on the base's own
 * surface.
 *
 * @param deviating which faces of base and remix deviate; asked for only where many faces are not those of the base
 * @throws InputError `combine-unsound` where the change of material cannot be said
 */
export function findChanges(
  kernel: Kernel,
  base: Mesh,
  remix: Mesh,
  tolerance_mm: number,
  deviating: () => Pick<MaterialOptions, 'changedBefore' | 'changedAfter'> = () => ({}),
): RemixChanges {
  const { before: snapped, unmatched } = snapOnto(remix, base, tolerance_mm);
  const few = isFew(unmatched.before) && isFew(unmatched.after);
  const found = materialDifference(kernel, base, snapped, { tolerance_mm, ...(few ? {} : deviating()) });
  if (found.added_mm3 === null || found.removed_mm3 === null) {
    throw new InputError(
      'combine-unsound',
      found.notes.find(note => note.about === 'added_mm3')?.text ?? 'The change of material is unknown.',
      'Close the surfaces, let no surface cross itself (kinprint measure says where), and try again.',
    );
  }
  const parts = remembered((offset_mm: number) =>
    cleanParts(kernel, base, snapped, found.regions, offset_mm),
  );
  const undone = remembered((offset_mm: number) =>
    cleanParts(kernel, snapped, base, found.regions.map(undoing), offset_mm),
  );
  const pieces = found.regions.map((region, k) => ({
    region,
    partsAt: (offset_mm: number) => parts(offset_mm)[k],
    undoneAt: (offset_mm: number) => undone(offset_mm)[k],
  }));
  return { pieces, notes: found.notes };
}

/** The change back. */
function undoing(region: MaterialRegion): MaterialRegion {
  return { ...region, kind: undoneBy(region.kind) };
}

/** Whether what does not match is so little of a large mesh that nothing is gained by telling what of it deviates. */
function isFew(unmatched: Uint8Array): boolean {
  const count = unmatched.reduce((sum, flag) => sum + flag, 0);
  return unmatched.length > defaults.wholeBelowFaces && count < defaults.coarsenBelowShare * unmatched.length;
}
