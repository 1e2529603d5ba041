import type { Note } from '@kinprint/mesh';
import type { Comparison } from '../comparison.ts';
import { goneNote } from './dropped-copies.ts';
import { byText } from './edit-distance.ts';
import { gatherBodies, type BodiedEntry, type BodyRef, type Gathered } from './gather-bodies.ts';
import { isTrouble, type Trouble, type TreeWork } from './outcome.ts';
import { verdictOrder } from './part-order.ts';
import type { PartPool } from './part-pool.ts';
import type { FileSummary } from './shape-summary.ts';
import type { EntryInfo } from './types.ts';

type Side = 'before' | 'after';

/** What is known of the files of both trees, and how to learn more. */
export interface Knowledge {
  readonly entries: Readonly<Record<Side, ReadonlyMap<string, EntryInfo>>>;
  readonly summaries: Readonly<Record<Side, ReadonlyMap<string, FileSummary | Trouble>>>;
  /** Summarizes the entries that are not yet. */
  learn(side: Side, entries: Iterable<EntryInfo>): Promise<void>;
}

interface Plate {
  readonly gathered: Gathered;
  /** The tree that the plate stands in. */
  readonly side: Side;
}

/**
 * Finds plates that gather files, and plates that were taken apart, among the files without a counterpart, and makes
 * their rows. Plates that gather more files come first, whichever tree they stand in.
 *
 * A body of a plate that is gone may stand in a file of AFTER that has its own line: that line is its only one, and a
 * note says where the body stands.
 */
export async function settlePlates(pool: PartPool, known: Knowledge, work: TreeWork): Promise<void> {
  const compared = new Map<string, Promise<Comparison | null>>();
  const compare = (before: BodyRef, after: BodyRef): Promise<Comparison | null> => {
    const key = JSON.stringify([before.path, before.body, after.path, after.body]);
    const result =
      compared.get(key) ?? work.compare(before, after).then(outcome => (isTrouble(outcome) ? null : outcome));
    compared.set(key, result);
    return result;
  };
  const look = async (side: Side, gatherer: BodiedEntry): Promise<Plate | null> => {
    const gathered = await gatherBodies(gatherer, bodied(pool, known, otherSide(side)), (source, plate) =>
      side === 'after' ? compare(source, plate) : compare(plate, source),
    );
    return gathered === null ? null : { gathered, side };
  };

  const plates: Plate[] = [];
  for (const side of ['before', 'after'] as const) {
    const gatherers = bodied(pool, known, side).filter(
      entry => entry.free && entry.summary.bodies.length > 1,
    );
    if (gatherers.length === 0) continue;
    const other = otherSide(side);
    await known.learn(other, known.entries[other].values());
    for (const plate of await Promise.all(gatherers.map(gatherer => look(side, gatherer))))
      if (plate !== null) plates.push(plate);
  }
  plates.sort(
    (a, b) =>
      b.gathered.from.length - a.gathered.from.length ||
      a.gathered.strange.length - b.gathered.strange.length ||
      byText(a.gathered.path, b.gathered.path),
  );
  for (const { gathered, side } of plates) {
    const gatherer = bodied(pool, known, side).find(entry => entry.path === gathered.path);
    if (gatherer === undefined || !gatherer.free) continue;
    // Plates settled before may have taken sources, so look again; comparisons are remembered.
    const plate = await look(side, gatherer);
    if (plate !== null) settlePlate(pool, known, plate);
  }
}

function bodied(pool: PartPool, { entries, summaries }: Knowledge, side: Side): BodiedEntry[] {
  return [...entries[side].keys()].flatMap(path => {
    const summary = summaries[side].get(path);
    return summary === undefined || isTrouble(summary) ? [] : [{ path, summary, free: pool[side].has(path) }];
  });
}

function otherSide(side: Side): Side {
  return side === 'after' ? 'before' : 'after';
}

function settlePlate(pool: PartPool, { entries, summaries }: Knowledge, { gathered, side }: Plate): void {
  const other = otherSide(side);
  const whole = entries[side].get(gathered.path) ?? null;
  const add = (
    source: EntryInfo | null,
    sourceBodies: number[] | null,
    bodies: number[] | null,
    outcome: Comparison | null,
  ): void => {
    const [pair, numbers] =
      side === 'after'
        ? [
            { before: source, after: whole },
            { before: sourceBodies, after: bodies },
          ]
        : [
            { before: whole, after: source },
            { before: bodies, after: sourceBodies },
          ];
    const pairing =
      source === null ? (side === 'after' ? 'added' : 'removed') : side === 'after' ? 'gathered' : 'split';
    pool.rows.push({ ...pair, pairing, bodies: numbers, outcome });
  };
  const standing: string[] = [];
  for (const { source, pieces } of gathered.from) {
    if (side === 'before' && !pool.after.has(source)) {
      standing.push(source);
      continue;
    }
    const sourceBodies = pieces.flatMap(piece => (piece.sourceBody === null ? [] : [piece.sourceBody]));
    const worst = pieces
      .map(piece => piece.comparison)
      .reduce((a, b) => (verdictOrder.indexOf(b.verdict) < verdictOrder.indexOf(a.verdict) ? b : a));
    add(
      entries[other].get(source) ?? null,
      sourceBodies.length === 0 ? null : [...new Set(sourceBodies)],
      pieces.map(piece => piece.body),
      worst,
    );
    const summary = summaries[other].get(source);
    const count = summary === undefined || isTrouble(summary) ? 0 : summary.bodies.length;
    if (pool[other].delete(source) && sourceBodies.length > 0)
      lost(
        pool,
        entries[other].get(source) ?? null,
        [...Array(count).keys()].filter(body => !sourceBodies.includes(body)),
        other,
      );
  }
  if (gathered.strange.length > 0) add(null, null, [...gathered.strange], null);
  else if (standing.length === gathered.from.length) add(null, null, null, null);
  if (standing.length > 0) pool.notes.push(bodiesNote(gathered));
  pool[side].delete(gathered.path);
}

function bodiesNote({ path, from, strange }: Gathered): Note {
  const found = new Set(from.flatMap(({ pieces }) => pieces.map(piece => piece.body))).size;
  const which = strange.length === 0 ? 'its bodies' : `${found} of its ${found + strange.length} bodies`;
  return goneNote(path, `${which} stand in ${from.map(({ source }) => source).join(', ')}`);
}

/** Bodies of a file that was taken apart which are nowhere any more. */
function lost(pool: PartPool, entry: EntryInfo | null, bodies: number[], side: Side): void {
  if (bodies.length === 0) return;
  pool.rows.push(
    side === 'before'
      ? {
          before: entry,
          after: null,
          pairing: 'removed',
          bodies: { before: bodies, after: null },
          outcome: null,
        }
      : {
          before: null,
          after: entry,
          pairing: 'added',
          bodies: { before: null, after: bodies },
          outcome: null,
        },
  );
}
