import {
  compareParts,
  type BodyRef,
  type Comparison,
  type FileSummary,
  type PartProblem,
  type TreeComparison,
  type Trouble,
} from '@kinprint/compare';
import type { Snapshot, SnapshotEntry } from '../snapshot/types.ts';
import { entryInput } from './entry-input.ts';
import { openPool, type WorkPool } from './pool.ts';
import type { PairComparison, PairOptions, TaskOutcome } from './task.ts';

export interface TreeHooks {
  /** Told how many of `max(before, after)` parts are done; never goes back. */
  readonly progress?: (done: number) => void;
  /** Threads to do it in, which are left open; own ones where left out. */
  readonly pool?: WorkPool;
  /** Takes the solids of each comparison. */
  readonly keep?: (comparison: Comparison, shapes: PairComparison['shapes']) => Promise<void>;
}

/**
 * What changed between two trees: their files paired and compared, across threads where there is enough to do.
 *
 * A file that cannot be read, or a comparison that fails by our fault, is a part with a problem; the others are
 * still compared. Does not close the snapshots.
 */
export async function compareTrees(
  before: Snapshot,
  after: Snapshot,
  options: PairOptions = {},
  hooks: TreeHooks = {},
): Promise<TreeComparison> {
  const entries = { before: byPath(before), after: byPath(after) };
  const pool = hooks.pool ?? openPool(amountOf(before, after));
  const total = Math.max(before.entries.length, after.entries.length);
  let done = total - changedOf(before, after);
  const step = (): void => hooks.progress?.(Math.min(++done, total));
  hooks.progress?.(done);

  const input = ({ path, body }: BodyRef, side: 'before' | 'after') =>
    entryInput(known(entries[side], path), body, pool.threads);
  try {
    const tree = await compareParts(before.entries, after.entries, {
      async summarize(side, path): Promise<FileSummary | Trouble> {
        const problem = entryTrouble(entries[side].get(path), side);
        if (problem !== null) return problem;
        const outcome = await pool.run(async () => ({
          kind: 'summarize',
          file: await input({ path, body: null }, side),
          options,
        }));
        step();
        return outcome.state === 'done' ? outcome.result : troubleOf(outcome, side);
      },
      async compare(from, to): Promise<Comparison | Trouble> {
        const problem =
          entryTrouble(entries.before.get(from.path), 'before') ??
          entryTrouble(entries.after.get(to.path), 'after');
        if (problem !== null) return problem;
        const outcome = await pool.run(async () => ({
          kind: 'compare',
          before: await input(from, 'before'),
          after: await input(to, 'after'),
          options,
          shapes: hooks.keep !== undefined,
        }));
        step();
        if (outcome.state !== 'done') return troubleOf(outcome, 'both');
        const { comparison, shapes } = outcome.result;
        await hooks.keep?.(comparison, shapes);
        return comparison;
      },
    });
    return { ...tree, notes: [...sideNotes(before, 'Before'), ...sideNotes(after, 'After'), ...tree.notes] };
  } finally {
    if (hooks.pool === undefined) await pool.close();
  }
}

function byPath(snapshot: Snapshot): Map<string, SnapshotEntry> {
  return new Map(snapshot.entries.map(entry => [entry.path, entry]));
}

function known(entries: ReadonlyMap<string, SnapshotEntry>, path: string): SnapshotEntry {
  const entry = entries.get(path);
  if (entry === undefined) throw new Error(`No entry has the path ${path}.`);
  return entry;
}

/** Entries of equal content are not read, so they are no work. */
function amountOf(before: Snapshot, after: Snapshot): { bytes: number; tasks: number } {
  const digests = { before: digestsOf(before), after: digestsOf(after) };
  const changed = [
    ...before.entries.filter(entry => !digests.after.has(entry.digest)),
    ...after.entries.filter(entry => !digests.before.has(entry.digest)),
  ];
  return { bytes: changed.reduce((sum, entry) => sum + (entry.size ?? 0), 0), tasks: changed.length };
}

function changedOf(before: Snapshot, after: Snapshot): number {
  const digests = { before: digestsOf(before), after: digestsOf(after) };
  return Math.max(
    before.entries.filter(entry => !digests.after.has(entry.digest)).length,
    after.entries.filter(entry => !digests.before.has(entry.digest)).length,
  );
}

function digestsOf(snapshot: Snapshot): Set<string | null> {
  const digests = new Set<string | null>(snapshot.entries.map(entry => entry.digest));
  digests.delete(null);
  return digests;
}

function entryTrouble(entry: SnapshotEntry | undefined, side: 'before' | 'after'): Trouble | null {
  const problem = entry?.problem ?? null;
  return problem === null ? null : { verdict: 'unreadable', problem: { ...problem, side } };
}

function troubleOf(
  outcome: Exclude<TaskOutcome<never>, { state: 'done' }>,
  side: PartProblem['side'],
): Trouble {
  if (outcome.state === 'input-error') {
    const { code, message, remedy } = outcome.error;
    return { verdict: 'unreadable', problem: { code, text: message, remedy, side: outcome.side ?? side } };
  }
  const problem = {
    code: 'fault',
    side,
    text: `The program failed on this part: ${outcome.text}`,
    remedy: 'Please report it with this text.',
  };
  return { verdict: 'failed', problem };
}

function sideNotes(snapshot: Snapshot, side: string) {
  return snapshot.notes.map(note => ({ ...note, text: `${side}: ${note.text}` }));
}
