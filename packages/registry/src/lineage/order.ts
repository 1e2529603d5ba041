import type { LineageIndex } from './lineage-index.ts';

export interface LineageOrder {
  /** Every id after all that it came from. */
  readonly order: readonly string[];
  /** Ids in a circle, or derived from one: they have no such order. Sorted. */
  readonly without: readonly string[];
}

/** Oldest first; O(n + e). Source: A. B. Kahn, Topological sorting of large networks, CACM 5 (1962). */
export function topologicalOrder(index: LineageIndex): LineageOrder {
  const { older, newer, ids } = index;
  const waits = Uint32Array.from(ids, (_, k) => older.start[k + 1] - older.start[k]);
  const queue: number[] = [];
  ids.forEach((_, k) => {
    if (waits[k] === 0) queue.push(k);
  });
  for (let at = 0; at < queue.length; at += 1) {
    const k = queue[at];
    for (let j = newer.start[k]; j < newer.start[k + 1]; j += 1) {
      waits[newer.ends[j]] -= 1;
      if (waits[newer.ends[j]] === 0) queue.push(newer.ends[j]);
    }
  }
  return { order: queue.map(k => ids[k]), without: ids.filter((_, k) => waits[k] > 0) };
}
