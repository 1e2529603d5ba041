import type { Derivation, VariantDocument } from '@kinprint/manifest';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';
import { unchanged } from '../../work/own-mirror-image.ts';
import type { PartLikeness } from '../likeness.ts';

/**
 * Derivations that the meshes do not bear out: a mirror in which nothing is mirrored that could be, a rescaling in
 * which nothing has another size, a copy that differs.
 *
 * @param likeness of each derivation's parts; null where they were not looked at
 */
export function unlikeFindings(
  variant: VariantState,
  manifest: VariantDocument,
  likeness: readonly (readonly PartLikeness[] | null)[],
): Finding[] {
  return (manifest.derivations ?? []).flatMap((derivation, k) => {
    const text = objection(derivation, likeness[k] ?? []);
    if (text === null) return [];
    const path = ['derivations', k, 'relation'];
    return [inManifest(variant, 'derivation-unlike', path, text, 'Correct the relation, or the meshes.')];
  });
}

function objection({ from, relation }: Derivation, parts: readonly PartLikeness[]): string | null {
  switch (relation) {
    case 'mirror': {
      // A part that is its own mirror image stays the same. Where one is mirrored, others may be used as they are.
      const telling = parts.filter(part => part.symmetric === false || !unchanged.has(part.verdict));
      return telling.length === 0 || parts.some(part => part.mirrored)
        ? null
        : `Said to be a mirror of ${from}, but no part is mirrored: ${told(telling)}.`;
    }
    case 'rescale':
      return parts.length === 0 || parts.some(part => part.scaled)
        ? null
        : `Said to be a rescaled ${from}, but no part has another scale: ${told(parts)}.`;
    case 'copy': {
      const other = parts.filter(part => !unchanged.has(part.verdict));
      return other.length === 0 ? null : `Said to be a copy of ${from}, but ${told(other)}.`;
    }
    case 'remix':
    case 'combination':
      return null;
  }
}

/** `'shell' is the same, 'strap' is mirrored`; of many parts the first. */
function told(parts: readonly PartLikeness[]): string {
  const words = parts.map(part => `'${part.part}' ${wordsOf(part)}`);
  return words.length > 4 ? `${words.slice(0, 4).join(', ')} and so on` : words.join(', ');
}

function wordsOf({ verdict, mirrored, scaled }: PartLikeness): string {
  switch (verdict) {
    case 'identical':
    case 'same-shape':
    case 'moved':
      return 'is the same';
    case 'mirrored':
      return 'is mirrored';
    case 'rescaled':
      return mirrored ? 'is mirrored and rescaled' : 'is rescaled';
    case 'reworked':
      return ['is reworked', mirrored ? ', mirrored' : '', scaled ? ', rescaled' : ''].join('');
    case 'replaced':
      return 'is another shape';
  }
}
