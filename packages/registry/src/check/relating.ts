import type { ReadOptions } from '@kinprint/mesh';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryInput } from '../work/entry-input.ts';
import type { WorkPool } from '../work/pool.ts';
import type { PairRelation, TaskOutcome } from '../work/task.ts';

/** Finds out how files stand to one another; null where one cannot be read, which is told with the meshes. */
export interface Relating {
  relate(before: SnapshotEntry, after: SnapshotEntry, options: ReadOptions): Promise<PairRelation | null>;
  /** Whether a shape is its own mirror image. */
  symmetric(entry: SnapshotEntry, options: ReadOptions): Promise<boolean | null>;
}

/** Rejects with what went wrong where that is a fault of ours. */
export function relatingWith(pool: WorkPool): Relating {
  return {
    async relate(before, after, options) {
      return resultOrNull(
        await pool.run<'relate'>(async () => ({
          kind: 'relate',
          before: await entryInput(before, null, pool.threads),
          after: await entryInput(after, null, pool.threads),
          options,
        })),
      );
    },
    async symmetric(entry, options) {
      return resultOrNull(
        await pool.run<'symmetric'>(async () => ({
          kind: 'symmetric',
          file: await entryInput(entry, null, pool.threads),
          options,
        })),
      );
    },
  };
}

function resultOrNull<T>(outcome: TaskOutcome<T>): T | null {
  if (outcome.state === 'fault') throw new Error(outcome.text);
  return outcome.state === 'done' ? outcome.result : null;
}
