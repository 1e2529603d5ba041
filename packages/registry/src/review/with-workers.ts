import { interferenceSearch } from '../assembly/interference-search.ts';
import type { Cache } from '../cache/cache.ts';
import { openPool } from '../work/pool.ts';
import type { HeldShapes } from './held-shapes.ts';
import type { VariantMeans } from './review-variant.ts';

/** The threads of a review, ended when the work is. @param total pieces of work that progress is counted against */
export async function withWorkers<T>(
  cache: Cache,
  held: HeldShapes | null,
  total: number,
  progress: (done: number, total: number) => void,
  work: (means: Pick<VariantMeans, 'pool' | 'search' | 'cache' | 'held' | 'progress'>) => Promise<T>,
): Promise<T> {
  const pool = openPool({ bytes: null, tasks: Math.max(2, total) });
  const search = interferenceSearch({ cache });
  let done = 0;
  try {
    return await work({
      pool,
      search,
      cache,
      held,
      progress: pairs => progress((done = Math.min(total, done + pairs)), total),
    });
  } finally {
    await Promise.all([pool.close(), search.close()]);
  }
}
