import { InputError, type Mesh } from '@kinprint/mesh';
import { defaults } from '../defaults.ts';
import { materialDifference } from '../difference/material-difference.ts';
import { snapOnto } from '../difference/snap.ts';
import type { MaterialOptions } from '../difference/types.ts';
import type { Kernel } from '../kernel.ts';
import { cleanParts } from './clean-parts.ts';
import type { RemixChanges } from './types.ts';

/**
 * What a remix added to the base and removed from it. The remix must stand in the base's frame already.
 *
 * Its vertices within the tolerance of one of the base's count as that vertex, so the pieces end on the base's own
 * surface. Options are those of the material difference from base to remix.
 *
 * @throws InputError `combine-unsound` where the change of material cannot be said, `combine-scattered` where it is
 *   in too many pieces
 */
export function findChanges(kernel: Kernel, base: Mesh, remix: Mesh, options: MaterialOptions): RemixChanges {
  const { before: snapped } = snapOnto(remix, base, options.tolerance_mm);
  const found = materialDifference(kernel, base, snapped, options);
  if (found.added_mm3 === null || found.removed_mm3 === null) {
    throw new InputError(
      'combine-unsound',
      found.notes.find(note => note.about === 'added_mm3')?.text ?? 'The change of material is unknown.',
      'Close the surfaces, let no surface cross itself (kinprint measure says where), and try again.',
    );
  }
  if (found.regions.length > defaults.maxCombinedPieces) {
    throw new InputError(
      'combine-scattered',
      `It differs from the base in ${found.regions.length} places, as surfaces do that were tessellated anew.`,
      'Say with --tolerance up to how many millimeters surfaces count as the same, e.g. --tolerance 0.05.',
    );
  }
  const parts = cleanParts(kernel, base, snapped, found.regions, options.tolerance_mm);
  return { pieces: found.regions.map((region, k) => ({ region, parts: parts[k] })), notes: found.notes };
}
