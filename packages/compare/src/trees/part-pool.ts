import type { Row } from './outcome.ts';
import { isTrouble } from './outcome.ts';
import { byText } from './edit-distance.ts';
import type { EntryInfo } from './types.ts';

/** Rows found so far, and the entries that have no counterpart yet. */
export interface PartPool {
  readonly rows: Row[];
  readonly before: Map<string, EntryInfo>;
  readonly after: Map<string, EntryInfo>;
}

/** Files under one path that have nothing in common: the one may have been renamed, and another put in its place. */
export function isReplaced(row: Row): boolean {
  return (
    row.pairing === 'path' &&
    row.outcome !== null &&
    !isTrouble(row.outcome) &&
    row.outcome.verdict === 'replaced'
  );
}

/**
 * Adds a row. Where one of its ends was half of a replaced pair, that pair is given up and its other half has no
 * counterpart any more.
 */
export function settle(pool: PartPool, row: Row): void {
  const breaks = (other: Row): boolean =>
    isReplaced(other) &&
    ((row.before !== null && other.before?.path === row.before.path) ||
      (row.after !== null && other.after?.path === row.after.path));
  for (const other of pool.rows.filter(breaks)) {
    pool.rows.splice(pool.rows.indexOf(other), 1);
    if (other.before !== null) pool.before.set(other.before.path, other.before);
    if (other.after !== null) pool.after.set(other.after.path, other.after);
  }
  if (row.before !== null) pool.before.delete(row.before.path);
  if (row.after !== null) pool.after.delete(row.after.path);
  pool.rows.push(row);
}

/**
 * Where a path holds something else than before, and its old (or new) content stands under another path: the file
 * was renamed, two files swapped names. Such pairs are made by content after all.
 */
export function rescueByContent(pool: PartPool): void {
  for (;;) {
    const replaced = pool.rows.filter(isReplaced);
    const copies = pool.rows.filter(row => row.pairing === 'copy');
    const match = firstMatch(replaced, copies);
    if (match === null) return;
    for (const copy of match.copies) pool.rows.splice(pool.rows.indexOf(copy), 1);
    settle(pool, { before: match.before, after: match.after, pairing: 'content', outcome: null });
  }
}

interface Match {
  readonly before: EntryInfo;
  readonly after: EntryInfo;
  /** The copy rows that the match makes superfluous. */
  readonly copies: readonly Row[];
}

function firstMatch(replaced: readonly Row[], copies: readonly Row[]): Match | null {
  const ordered = [...replaced].sort((a, b) => byText(a.before?.path ?? '', b.before?.path ?? ''));
  for (const { before, after } of ordered) {
    if (before === null || after === null) continue;
    const swapped = ordered.find(
      row => row.after !== after && row.after?.digest === before.digest && before.digest !== null,
    );
    if (swapped?.after) return { before, after: swapped.after, copies: [] };
    const copied = copies.find(row => row.before === before && row.after !== null);
    if (copied?.after) return { before, after: copied.after, copies: [copied] };
    const dropped = copies.find(row => row.after === after && row.before !== null);
    if (dropped?.before) return { before: dropped.before, after, copies: [dropped] };
  }
  return null;
}
