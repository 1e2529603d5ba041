import { entryInput } from '../work/entry-input.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import type { Comparer } from './likeness.ts';

/** Comparisons on all cores; threads start with the first one. */
export interface ComparePool {
  readonly compare: Comparer;
  close(): Promise<void>;
}

/**
 * @param bytes of what will be compared at most
 * @param tasks how many comparisons there will be at most
 * @param worker the worker's file; for tests
 */
export function comparePool(bytes: number, tasks: number, worker?: URL | null): ComparePool {
  let pool: WorkPool | null = null;
  let closed = false;
  return {
    async compare(before, after, options) {
      if (closed) throw new Error('The check was given up.');
      const here = (pool ??= openPool({ bytes, tasks, ...(worker === undefined ? {} : { worker }) }));
      const outcome = await here.run<'compare'>(async () => ({
        kind: 'compare',
        before: await entryInput(before, null, here.threads),
        after: await entryInput(after, null, here.threads),
        options,
      }));
      if (outcome.state === 'fault') throw new Error(outcome.text);
      return outcome.state === 'done' ? outcome.result.comparison : null;
    },
    async close() {
      closed = true;
      await pool?.close();
    },
  };
}
