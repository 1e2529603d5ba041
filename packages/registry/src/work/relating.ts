import type { RelateOptions } from '@kinprint/compare';
import type { ReadOptions } from '@kinprint/mesh';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryInput } from './entry-input.ts';
import { resultOrNull } from './outcome.ts';
import type { WorkPool } from './pool.ts';
import type { PairRelation } from './task.ts';

/** How both files are read, and within what they count as the same. */
export type RelatingOptions = ReadOptions & RelateOptions;

/** Finds out how files stand to one another; null where one cannot be read. */
export interface Relating {
  relate(before: SnapshotEntry, after: SnapshotEntry, options: RelatingOptions): Promise<PairRelation | null>;
  /** Whether a shape is its own mirror image. */
  symmetric(entry: SnapshotEntry, options: RelatingOptions): Promise<boolean | null>;
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
