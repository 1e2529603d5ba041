import type { Comparison } from '../comparison.ts';
import { findCuts } from './cut-pieces.ts';
import { removeDroppedCopies } from './dropped-copies.ts';
import { byText } from './edit-distance.ts';
import { settlePlates } from './plates.ts';
import { isTrouble, partOf, type Row, type Trouble, type TreeWork } from './outcome.ts';
import { pairByPathAndContent } from './pair-by-content.ts';
import {
  pairCongruent,
  pairDescendants,
  pairReworked,
  type ShapedEntry,
  type ShapePair,
} from './pair-by-shape.ts';
import { byChange, treeTotals } from './part-order.ts';
import { isReplaced, rescueByContent, settle, type PartPool } from './part-pool.ts';
import type { FileSummary } from './shape-summary.ts';
import type { EntryInfo, TreeComparison } from './types.ts';

type Side = 'before' | 'after';

/**
 * Pairs the files of two trees and compares the pairs.
 *
 * In this order: the same path; the same content; the same shape elsewhere; several files gathered in one (a plate)
 * or one split into several; recognisably made from one another; and last, made from a file that has a counterpart
 * already. What remains was added or removed. Files of equal content are read only when another file may hold their
 * shape.
 *
 * Each file of AFTER (or each of its bodies) is in one part, except one glued from several, which is in one part per
 * piece. `copy`, `split` and `gathered` may name one file of BEFORE in several parts. Notes name files that are gone
 * while what they held stands in files with parts of their own.
 */
export async function compareParts(
  before: readonly EntryInfo[],
  after: readonly EntryInfo[],
  work: TreeWork,
): Promise<TreeComparison> {
  const paired = pairByPathAndContent(before, after);
  const pool: PartPool = {
    rows: [],
    notes: [],
    before: byPath(paired.restBefore),
    after: byPath(paired.restAfter),
  };
  pool.rows.push(
    ...(await Promise.all(
      paired.pairs.map(async (pair): Promise<Row> => {
        const same = pair.before.digest !== null && pair.before.digest === pair.after.digest;
        return {
          ...pair,
          outcome: same ? null : await work.compare(file(pair.before.path), file(pair.after.path)),
        };
      }),
    )),
  );
  rescueByContent(pool);

  const summaries = {
    before: new Map<string, FileSummary | Trouble>(),
    after: new Map<string, FileSummary | Trouble>(),
  };
  const learn = async (side: Side, entries: Iterable<EntryInfo>): Promise<void> => {
    const unknown = [...entries].filter(entry => !summaries[side].has(entry.path));
    const results = await Promise.all(unknown.map(entry => work.summarize(side, entry.path)));
    unknown.forEach((entry, i) => summaries[side].set(entry.path, results[i]));
  };
  const shaped = (side: Side, entries: Iterable<EntryInfo>): ShapedEntry[] =>
    [...entries].flatMap(({ path }) => {
      const summary = summaries[side].get(path);
      return summary === undefined || isTrouble(summary) ? [] : [{ path, shape: summary.whole }];
    });
  const compareFiles = async (from: string, to: string): Promise<Comparison | null> => {
    const outcome = await work.compare(file(from), file(to));
    return isTrouble(outcome) ? null : outcome;
  };
  const entries = { before: byPath(before), after: byPath(after) };
  const rowOf = ({ before: from, after: to, comparison }: ShapePair, pairing: 'shape' | 'copy'): Row => ({
    before: entries.before.get(from) ?? null,
    after: entries.after.get(to) ?? null,
    pairing,
    outcome: comparison,
  });
  const take = (pair: ShapePair): void => settle(pool, rowOf(pair, 'shape'));

  await Promise.all([learn('before', pool.before.values()), learn('after', pool.after.values())]);
  const replaced = pool.rows.filter(isReplaced);
  const ends = (side: Side): EntryInfo[] => replaced.flatMap(row => row[side] ?? []);
  if (pool.before.size + pool.after.size > 0 || replaced.length > 1)
    await Promise.all([learn('before', ends('before')), learn('after', ends('after'))]);
  const candidates = (side: Side): ShapedEntry[] => shaped(side, [...pool[side].values(), ...ends(side)]);
  (await pairCongruent(candidates('before'), candidates('after'), compareFiles)).forEach(take);

  await settlePlates(pool, { entries, summaries, learn }, work);
  await cut(pool, entries, side => shaped(side, pool[side].values()), compareFiles);

  const free = (side: Side): ShapedEntry[] => shaped(side, pool[side].values());
  (await pairReworked(free('before'), free('after'), compareFiles)).forEach(take);

  removeDroppedCopies(pool);
  if (free('after').length > 0) {
    const paired = [...entries.before.values()].filter(entry => !pool.before.has(entry.path));
    await learn('before', paired);
    for (const pair of await pairDescendants(shaped('before', paired), free('after'), compareFiles)) {
      pool.rows.push(rowOf(pair, 'copy'));
      pool.after.delete(pair.after);
    }
  }

  for (const side of ['before', 'after'] as const)
    for (const entry of pool[side].values()) {
      const summary = summaries[side].get(entry.path);
      const outcome = summary !== undefined && isTrouble(summary) ? summary : null;
      const ends = side === 'before' ? { before: entry, after: null } : { before: null, after: entry };
      pool.rows.push({ ...ends, pairing: side === 'before' ? 'removed' : 'added', outcome });
    }
  const parts = pool.rows.map(partOf).sort(byChange);
  const notes = [...pool.notes].sort((a, b) => byText(a.text, b.text));
  return { parts, totals: treeTotals(parts), notes };
}

/** Parts that were cut into several, and parts that were glued from several. */
async function cut(
  pool: PartPool,
  entries: Readonly<Record<Side, ReadonlyMap<string, EntryInfo>>>,
  free: (side: Side) => ShapedEntry[],
  compare: (before: string, after: string) => Promise<Comparison | null>,
): Promise<void> {
  for (const { whole, pieces } of await findCuts(free('before'), free('after'), compare, 'added_mm3'))
    for (const { path, comparison } of pieces) {
      const [from, to] = [entries.before.get(whole) ?? null, entries.after.get(path) ?? null];
      settle(pool, { before: from, after: to, pairing: 'split', outcome: comparison });
    }
  const glued = await findCuts(
    free('after'),
    free('before'),
    (whole, piece) => compare(piece, whole),
    'removed_mm3',
  );
  for (const { whole, pieces } of glued)
    for (const { path, comparison } of pieces) {
      const [from, to] = [entries.before.get(path) ?? null, entries.after.get(whole) ?? null];
      settle(pool, { before: from, after: to, pairing: 'gathered', outcome: comparison });
    }
}

function byPath(entries: readonly EntryInfo[]): Map<string, EntryInfo> {
  return new Map(entries.map(entry => [entry.path, entry]));
}

function file(path: string): { path: string; body: null } {
  return { path, body: null };
}
