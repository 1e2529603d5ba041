import {
  parseRevisionAddress,
  type RegistryDocument,
  type RevisionEntry,
  type VariantDocument,
} from '@kinprint/manifest';
import { didYouMean, nearestNames } from '../../git/nearest.ts';
import type { RegistryState, VariantState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';

/** Derivations whose older end is not there, or is not what they say. */
export function derivationFindings(
  variant: VariantState,
  manifest: VariantDocument,
  registry: RegistryDocument | null,
  state: RegistryState,
  sources: ReadonlyMap<string, RegistryState>,
): Finding[] {
  return (manifest.derivations ?? []).flatMap((derivation, k) => {
    const path = ['derivations', k, 'from'];
    const say = (code: Parameters<typeof inManifest>[1], text: string, remedy: string): Finding[] => [
      inManifest(variant, code, path, text, remedy),
    ];
    const from = parseRevisionAddress(derivation.from);
    if (from === null) return []; // told with the document
    const { source } = from;
    const listed = Object.keys(registry?.sources ?? {});
    if (source !== null && !listed.includes(source))
      return say(
        'source-unknown',
        `registry.yaml lists no source '${source}'.`,
        `${didYouMean(nearestNames(source, listed))}List it under sources with its git address.`,
      );
    const there = source === null ? state : sources.get(source);
    if (there === undefined)
      return say(
        'source-not-fetched',
        `The source '${source ?? ''}' is not at hand, so this derivation cannot be checked.`,
        'Fetch the sources, then check again.',
      );
    const address = `${from.device}/${from.variant}`;
    const where = source === null ? 'This registry' : `The source '${source}'`;
    const parent = there.variants.get(address);
    const renamed = parent === undefined ? holderOf(derivation.digest, there) : null;
    if (renamed !== null)
      return say(
        'derivation-renamed',
        `${where} has no variant '${address}', but '${renamed}' is the revision with this digest.`,
        `Write '${source === null ? '' : `${source}:`}${renamed}' when you next record; until then the digest tells what is meant.`,
      );
    if (parent === undefined)
      return say(
        'derivation-unknown',
        `${where} has no variant '${address}'.`,
        `${didYouMean(nearestNames(address, there.variants.keys()))}Correct the address.`,
      );
    // Of a manifest with errors, the errors are told.
    if (parent.document.value === null) return [];
    const revisions: readonly RevisionEntry[] = parent.document.value.revisions ?? [];
    const entry = revisions.find(revision => revision.letter === from.letter);
    if (entry === undefined)
      return say(
        'derivation-letter-unknown',
        `'${address}' has no revision ${from.letter}.`,
        revisions.length === 0
          ? `Record it first: kinprint record ${address}`
          : `Name one that is recorded: ${revisions.map(revision => revision.letter).join(', ')}.`,
      );
    if (derivation.digest !== undefined && derivation.digest !== entry.digest)
      return [
        inManifest(
          variant,
          'derivation-digest-differs',
          ['derivations', k, 'digest'],
          `The digest is not that of ${derivation.from}, which is ${entry.digest}.`,
          'Find out which content this was really made from, and write its letter and digest.',
        ),
      ];
    return [];
  });
}

/** The revision that holds this digest under another address, as after a folder was renamed; null where there is none. */
function holderOf(digest: string | undefined, { variants }: RegistryState): string | null {
  if (digest === undefined) return null;
  for (const { address, document } of variants.values()) {
    const entry = document.value?.revisions?.find(revision => revision.digest === digest);
    if (entry !== undefined) return `${address}@${entry.letter}`;
  }
  return null;
}
