import type { VariantDocument } from '@kinprint/manifest';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';

/** What was marked as still to be looked at by a person. */
export function unsettledFindings(variant: VariantState, manifest: VariantDocument): Finding[] {
  const remedy = 'Settle it, and take the mark away.';
  const marks = [
    ...(manifest.derivations ?? []).map(({ unsettled }, k) => ({
      unsettled,
      k,
      of: 'derivations',
      part: null,
    })),
    ...manifest.parts.map(({ unsettled, id }, k) => ({ unsettled, k, of: 'parts', part: id })),
  ];
  return marks.flatMap(({ unsettled, k, of, part }) =>
    unsettled === undefined
      ? []
      : [inManifest(variant, 'unsettled', [of, k, 'unsettled'], `Unsettled: ${unsettled}`, remedy, part)],
  );
}
