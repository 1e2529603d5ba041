import type { Derivation, VariantDocument } from '@kinprint/manifest';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';
import type { Likeness, PartLikeness } from '../likeness.ts';

/**
 * Derivations that the meshes do not bear out: a mirror in which nothing is mirrored, a rescaling in which nothing has
 * another size, a copy that differs.
 *
 * @param likeness of each derivation; null where it was not looked at
 */
export function unlikeFindings(
  variant: VariantState,
  manifest: VariantDocument,
  likeness: readonly (Likeness | null)[],
): Finding[] {
  return (manifest.derivations ?? []).flatMap((derivation, k) => {
    const look = likeness[k];
    if (look === null || look === undefined || look.parts.length === 0) return [];
    const text = objection(derivation, look.parts);
    if (text === null) return [];
    return [
      inManifest(
        variant,
        'derivation-unlike',
        ['derivations', k, 'relation'],
        text,
        'Correct the relation, or the meshes.',
      ),
    ];
  });
}

const unchanged = new Set(['identical', 'same-shape', 'moved']);

function objection({ from, relation }: Derivation, parts: readonly PartLikeness[]): string | null {
  const told = parts
    .map(p => `'${p.part}' ${p.words}`)
    .slice(0, 4)
    .join(', ');
  switch (relation) {
    case 'mirror':
      return parts.some(p => p.mirrored)
        ? null
        : `Said to be a mirror of ${from}, but no part is mirrored: ${told}.`;
    case 'rescale':
      return parts.some(p => p.scaled)
        ? null
        : `Said to be a rescaled ${from}, but no part has another scale: ${told}.`;
    case 'copy': {
      const other = parts.filter(p => !unchanged.has(p.verdict));
      if (other.length === 0) return null;
      return `Said to be a copy of ${from}, but ${other
        .map(p => `'${p.part}' ${p.words}`)
        .slice(0, 4)
        .join(', ')}.`;
    }
    case 'remix':
    case 'combination':
      return null;
  }
}
