import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryInput } from './entry-input.ts';
import { resultOrThrow } from './outcome.ts';
import { openPool } from './pool.ts';
import type { PairComparison, PairOptions, Task } from './task.ts';

/**
 * Compares two entries, and says what was measured of each.
 *
 * @param more how the first is read where that differs, and whether the solids are wanted as well
 * @throws InputError for a side that cannot be read; Error for a fault of ours
 */
export async function comparePair(
  before: SnapshotEntry,
  after: SnapshotEntry,
  options: PairOptions = {},
  more: Pick<Extract<Task, { kind: 'compare' }>, 'beforeOptions' | 'shapes'> = {},
): Promise<PairComparison> {
  const pool = openPool({ bytes: 0, tasks: 1 });
  try {
    return resultOrThrow(
      await pool.run(async () => ({
        kind: 'compare',
        before: await entryInput(before, null, pool.threads),
        after: await entryInput(after, null, pool.threads),
        options,
        ...more,
      })),
    );
  } finally {
    await pool.close();
  }
}
