import type { MissingKind, MissingLine, Preparation, PrepareBase, PreparedPart } from '@kinprint/registry';
import { decisionWords } from '../review/decision-words.ts';
import { num, plural } from '../terminal/words.ts';

/** What a change is counted from, in a sentence. */
export function baseWords({ name, commit, given, uncommitted, shared }: PrepareBase): string {
  const at = commit.slice(0, 10);
  if (!shared) return `Compared with ${name} (${at}) as it is: no common commit is at hand.`;
  if (uncommitted)
    return name === 'HEAD' || given
      ? `Compared with ${name} (${at}): what is not committed.`
      : `Compared with HEAD (${at}), which is on ${name}: what is not committed.`;
  return `Compared with where this branch left ${name} (${at}).`;
}

/** The whole answer in a sentence or a few; the middle one is that of the review. */
export function readyWords({ review, ready, variants }: Preparation): string {
  if (review.decision === 'nothing') return 'Nothing to send: there is no change.';
  const missing = variants.reduce((sum, { missing: lines }) => sum + lines.length, 0);
  const { text, tone } = decisionWords(review);
  return [
    ready ? 'Ready to send.' : 'Not ready to send.',
    text,
    tone === 'ask' ? 'Say in the submission what they need to know.' : '',
    missing === 0 ? '' : `${plural(missing, 'place')} in manifests can be filled in; see below what with.`,
  ]
    .filter(Boolean)
    .join(' ');
}

/** `shell 60.0 × 40.0 × 22.5 mm: small-bed, kitchen-table`. */
export function printerWords({ id, size_mm, printers }: PreparedPart): string | null {
  if (size_mm === null || printers === null) return null;
  const takes =
    printers.length === 0 ? 'no listed printer by its box; see the findings' : printers.join(', ');
  return `${id} ${size_mm.map(v => num(v, 1)).join(' × ')} mm: ${takes}`;
}

/** `Put in at line 12`, `In place of lines 12 to 14`. */
export function whereWords({ line, replaces }: Pick<MissingLine, 'line' | 'replaces'>): string {
  if (replaces === 0) return `put in above line ${line}`;
  return replaces === 1 ? `in place of line ${line}` : `in place of lines ${line} to ${line + replaces - 1}`;
}

export const missingTitles: Readonly<Record<MissingKind, string>> = {
  license: 'license',
  authors: 'authors',
  summary: 'summary',
  derivation: 'derivations',
  digest: 'digest of a derivation',
  changes: 'changes of a derivation',
  material: 'material',
  print: 'print settings',
  interfaces: 'interfaces',
};
