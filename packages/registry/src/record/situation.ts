import type { Digest, RevisionEntry } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { VariantState } from '../state/types.ts';
import type { CommittedVariant } from './committed-variant.ts';

/**
 * How the revisions in a variant's manifest, those on the branch, and its present content stand to each other.
 *
 * - `next`: the content is new; the next letter is due.
 * - `unchanged`: the content is that of the last letter, and all of it is on the branch.
 * - `manifest-behind`: the branch has a letter for this content which the manifest lacks: a recording was ended
 *   between moving the branch and writing the manifest.
 * - `uncommitted`: the manifest names this content, and the branch does not have the entry.
 */
export type Situation = {
  /** Entries of the branch that the manifest lacks. */
  readonly missing: readonly RevisionEntry[];
  /** The log, with what the branch has of it. */
  readonly own: readonly RevisionEntry[];
  /** The last revision known in either. */
  readonly last: RevisionEntry | null;
} & (
  | { readonly kind: 'next' }
  | { readonly kind: 'unchanged' | 'manifest-behind' | 'uncommitted'; readonly entry: RevisionEntry }
);

/** @throws InputError `revisions-diverge`, `content-recorded` */
export function checkRevisions(
  variant: VariantState,
  committed: CommittedVariant,
  digest: Digest,
): Situation {
  const here = variant.document.value?.revisions ?? [];
  const there = committed.revisions;
  const shared = Math.min(here.length, there.length);
  for (let k = 0; k < shared; k++) {
    if (here[k].letter === there[k].letter && here[k].digest === there[k].digest) continue;
    throw new InputError(
      'revisions-diverge',
      `The manifest and the branch disagree about revision ${k + 1}: ${here[k].letter} here, ${there[k].letter} there.`,
      'Entries of revisions are never rewritten: take back those that were changed by hand, or merge the other branch.',
      { file: variant.document.file, ...placeOf(variant, k) },
    );
  }
  const missing = there.slice(here.length);
  const all = [...here, ...missing];
  const last = all.at(-1) ?? null;
  const base = { missing, own: all, last };
  if (last !== null && last.digest === digest) {
    if (missing.length > 0) return { ...base, kind: 'manifest-behind', entry: last };
    return { ...base, kind: here.length > there.length ? 'uncommitted' : 'unchanged', entry: last };
  }
  if (here.length > there.length) {
    const entry = here[there.length];
    throw new InputError(
      'revision-not-committed',
      `Revision ${entry.letter} stands in the manifest, but it was never committed, and its content is not here.`,
      `Take the entry out; kinprint record writes it.`,
      { file: variant.document.file, ...placeOf(variant, there.length) },
    );
  }
  const older = all.find(entry => entry.digest === digest);
  if (older !== undefined) throw contentRecorded(older.letter, variant.document.file);
  return { ...base, kind: 'next' };
}

export function contentRecorded(letter: string, file: string): InputError {
  return new InputError(
    'content-recorded',
    `This content is already recorded as ${letter}.`,
    `A content has one letter for ever. To go back to ${letter}, say so in cautions or summary and record that, or derive a variant from it.`,
    { file },
  );
}

function placeOf(
  variant: VariantState,
  revision: number,
): { readonly line: number; readonly column: number } {
  const { line, column } = variant.document.place(['revisions', revision]);
  return { line, column };
}
