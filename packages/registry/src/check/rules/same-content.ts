import { parseRevisionAddress, type Derivation } from '@kinprint/manifest';
import type { RegistryState } from '../../state/types.ts';
import { finding, inDocument, type Finding } from '../finding.ts';
import { listing } from '../words.ts';

/**
 * Variants with the same files. Where `copy` says so it is meant, also from copy to copy. What remains is told once for
 * each set of copies, of the variant that came later where derivations tell.
 *
 * @param contents a text that is equal where the contents are, by address
 */
export function sameContentFindings(state: RegistryState, contents: ReadonlyMap<string, string>): Finding[] {
  const groups = new Map<string, string[]>();
  for (const [address, content] of contents) groups.set(content, [...(groups.get(content) ?? []), address]);
  return [...groups.values()].filter(group => group.length > 1).flatMap(group => ofGroup(state, group));
}

function ofGroup(state: RegistryState, group: readonly string[]): Finding[] {
  const isOlder = (address: string) => !derivesFrom(state, address, group, () => true);
  const sets = setsOfCopies(state, group).map(set => {
    const original = set.find(address => !derivesFrom(state, address, set, isCopy)) ?? set[0];
    return { set, original };
  });
  const first = sets.find(({ original }) => isOlder(original)) ?? sets[0];
  return sets.flatMap(({ set, original }) => {
    const variant = state.variants.get(original);
    if (set === first.set || variant === undefined) return [];
    const all = listing(group.filter(other => !set.includes(other)).map(other => `'${other}'`));
    return [
      finding(
        'same-content',
        inDocument(variant.document, ['title']),
        `All files are the same as those of ${all}.`,
        'If one is a copy of the other, say so with a derivation (relation: copy); if not, one has the wrong files.',
        { variant: original },
      ),
    ];
  });
}

/** The variants of a group, those together that `copy` links, be it by way of others. */
function setsOfCopies(state: RegistryState, group: readonly string[]): string[][] {
  let sets: string[][] = [];
  for (const address of group) {
    const linked = (other: string) =>
      derivesFrom(state, address, [other], isCopy) || derivesFrom(state, other, [address], isCopy);
    const touched = sets.filter(set => set.some(linked));
    sets = [...sets.filter(set => !touched.includes(set)), [...touched.flat(), address]];
  }
  return sets;
}

function derivesFrom(
  state: RegistryState,
  address: string,
  others: readonly string[],
  counts: (derivation: Derivation) => boolean,
): boolean {
  const derivations = state.variants.get(address)?.document.value?.derivations ?? [];
  return derivations.some(derivation => {
    const from = parseRevisionAddress(derivation.from);
    if (from === null || from.source !== null || !counts(derivation)) return false;
    const parent = `${from.device}/${from.variant}`;
    return parent !== address && others.includes(parent);
  });
}

function isCopy({ relation }: Derivation): boolean {
  return relation === 'copy';
}
