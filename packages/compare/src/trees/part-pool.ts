import type { Note } from '@kinprint/mesh';
import type { Row } from './outcome.ts';
import { isTrouble } from './outcome.ts';
import { byText } from './edit-distance.ts';
import { bothPaths } from './pair-by-content.ts';
import type { EntryInfo } from './types.ts';

/** Rows found so far, and the entries that have no counterpart yet. */
export interface PartPool {
  readonly rows: Row[];
  readonly notes: Note[];
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
 * was renamed, or files swapped names. Such pairs are made by content after all.
 */
export function rescueByContent(pool: PartPool): void {
  for (let match = firstMatch(pool); match !== null; match = firstMatch(pool)) {
    if (match.copy !== null) pool.rows.splice(pool.rows.indexOf(match.copy), 1);
    settle(pool, { before: match.before, after: match.after, pairing: 'content', outcome: null });
  }
}

interface Match {
  readonly before: EntryInfo;
  readonly after: EntryInfo;
  /** The copy that turns out to be the file itself. */
  readonly copy: Row | null;
}

function firstMatch(pool: PartPool): Match | null {
  const replaced = pool.rows.filter(isReplaced);
  const before = [...pool.before.values(), ...replaced.flatMap(row => row.before ?? [])].sort(byPath);
  const after = [...pool.after.values(), ...replaced.flatMap(row => row.after ?? [])].sort(byPath);
  const afterByDigest = new Map([...after].reverse().map(entry => [entry.digest, entry]));
  for (const from of before) {
    const to = from.digest === null ? undefined : afterByDigest.get(from.digest);
    if (to !== undefined) return { before: from, after: to, copy: null };
  }
  const copies = pool.rows.filter(row => row.pairing === 'copy').sort(byBothPaths);
  for (const copy of copies) {
    if (copy.before === null || copy.after === null) continue;
    const old = replaced.some(row => row.before === copy.before);
    const now = replaced.some(row => row.after === copy.after);
    if (old || now) return { before: copy.before, after: copy.after, copy };
  }
  return null;
}

function byPath(a: EntryInfo, b: EntryInfo): number {
  return byText(a.path, b.path);
}

function byBothPaths(a: Row, b: Row): number {
  return bothPaths(a.before?.path ?? '', a.after?.path ?? '', b.before?.path ?? '', b.after?.path ?? '');
}
