import type {
  MissingKind,
  MissingLine,
  Preparation,
  PrepareBase,
  PreparedPart,
  VariantReview,
} from '@kinprint/registry';
import { decisionWords } from '../review/decision-words.ts';
import { findingPlaceWords } from '../review/finding-words.ts';
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

/** Why nothing is told of what a changed variant's manifest lacks; null where it was read. */
export function unreadWords(
  { address, change }: VariantReview,
  { variants, review }: Preparation,
): string | null {
  if (change === 'removed' || variants.some(each => each.address === address)) return null;
  const manifest = `devices/${address}/variant.yaml`;
  const fault = review.findings.find(
    ({ origin, file, severity, line }) =>
      origin === 'check' && file === manifest && severity === 'error' && line !== null,
  );
  const place = fault === undefined ? null : findingPlaceWords(fault);
  return `Nothing can be offered or written until ${place ?? manifest} can be read.`;
}

/** `shell 60.0 × 40.0 × 22.5 mm: small-bed, kitchen-table`; null where nothing is known. */
export function printerWords(part: PreparedPart): string | null {
  const { id, size_mm } = part;
  const taking = takingWords(part);
  return size_mm === null || taking === null
    ? null
    : `${id} ${size_mm.map(v => num(v, 1)).join(' × ')} mm: ${taking}`;
}

/** `small-bed, kitchen-table`, `none; on another side kitchen-table (y up)`; null where nothing is known. */
export function takingWords({
  printers,
  on_another_side: sides,
}: Pick<PreparedPart, 'printers' | 'on_another_side'>): string | null {
  if (printers === null) return null;
  const upright = printers.length === 0 ? 'none' : printers.join(', ');
  const turned = sides.map(({ printer, up }) => `${printer} (${up} up)`).join(', ');
  return turned === '' ? upright : `${upright}; on another side ${turned}`;
}

/** Above both: by what it is told, and which way up. */
export const takingHeading = 'Printers that take its box as it is to be printed';

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
