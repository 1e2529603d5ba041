import { compareLetters, parseLetter, type VariantDocument } from '@kinprint/manifest';
import type { Standing } from '../../state/digest.ts';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';
import type { Recording } from '../recorded-letters.ts';

/**
 * Letters out of order, or given to more than one content: within the manifest, or in any version of it that the
 * history holds; and whether the present content is what was recorded last.
 *
 * @param recorded what the history recorded for this variant's manifest
 */
export function revisionFindings(
  variant: VariantState,
  manifest: VariantDocument,
  recorded: readonly Recording[],
  standing: Standing | null,
): Finding[] {
  const revisions = manifest.revisions ?? [];
  const findings: Finding[] = [];
  const first = new Map<string, string>();
  revisions.forEach(({ letter, digest }, k) => {
    const path = ['revisions', k, 'letter'];
    const before = parseLetter(revisions[k - 1]?.letter ?? '');
    const here = parseLetter(letter);
    const other = first.get(letter);
    if (other !== undefined)
      findings.push(
        inManifest(
          variant,
          other === digest ? 'letter-order' : 'letter-reused',
          path,
          other === digest
            ? `${letter} is recorded twice.`
            : `${letter} is recorded twice, for different contents.`,
          'A letter stands for one content for good: record the later content under the next letter.',
        ),
      );
    else if (before !== null && here !== null && compareLetters(before, here) >= 0)
      findings.push(
        inManifest(
          variant,
          'letter-order',
          path,
          `${letter} follows ${before}, but comes before it in the order of letters.`,
          'List the revisions oldest first.',
        ),
      );
    if (other === undefined) first.set(letter, digest);
    if (other === undefined) findings.push(...elsewhereFindings(variant, k, { letter, digest }, recorded));
  });
  if (standing?.status === 'changed' && standing.last !== null)
    findings.push(
      inManifest(
        variant,
        'changed-since',
        ['revisions', revisions.length - 1, 'letter'],
        `The content has changed since ${standing.last.letter} was recorded.`,
        'Record it when the change is complete: kinprint record.',
      ),
    );
  return findings;
}

/** The letter of entry `k`, recorded for other content in the history: once for each way it came to that. */
function elsewhereFindings(
  variant: VariantState,
  k: number,
  { letter, digest }: Pick<Recording, 'letter' | 'digest'>,
  recorded: readonly Recording[],
): Finding[] {
  const own = recorded.find(r => r.letter === letter && r.digest === digest);
  const others = recorded.filter(r => r.letter === letter && r.digest !== digest);
  const isParallel = (r: Recording) => own?.parallel.includes(r.digest) === true;
  const words = (r: Recording, where: string) =>
    `${letter} is recorded for other content in commit ${r.commit.slice(0, 12)}${where} (${r.digest.slice(0, 19)}…).`;
  const path = ['revisions', k, 'letter'];
  const replaced = others.find(r => !isParallel(r));
  if (replaced !== undefined)
    return [
      inManifest(
        variant,
        'letter-reused',
        path,
        words(replaced, ''),
        'Keep the one that others may have built upon; record the other content under the next letter.',
      ),
    ];
  // Nobody can take back what two people recorded on two branches, so that this must not stop what comes after.
  const parallel = others.find(isParallel);
  if (parallel === undefined) return [];
  return [
    inManifest(
      variant,
      'letter-parallel',
      path,
      words(parallel, ' on another branch'),
      'Keep one of them in the manifest; record what the other has under the next letter, and tell those who built upon it.',
    ),
  ];
}
