import { numbersOf, type LineageIndex, type Links } from './lineage-index.ts';

/** Everything the nodes came from, directly or not; without themselves, unless they are in a circle. Sorted ids; O(n + e). */
export function ancestorsOf(index: LineageIndex, ids: readonly string[]): string[] {
  return named(index, reach(index.older, numbersOf(index, ids), false));
}

/** Everything that came from the nodes, directly or not; without themselves, unless they are in a circle. Sorted ids; O(n + e). */
export function descendantsOf(index: LineageIndex, ids: readonly string[]): string[] {
  return named(index, reach(index.newer, numbersOf(index, ids), false));
}

/**
 * Marks what can be reached along links.
 *
 * @param inclusive whether the nodes to start with count as reached
 * @returns one byte per node: 1 for reached
 */
export function reach(links: Links, from: readonly number[], inclusive: boolean): Uint8Array {
  const { start, ends } = links;
  const reached = new Uint8Array(start.length - 1);
  const stack: number[] = [];
  if (inclusive) for (const k of from) reached[k] = 1;
  const spread = (k: number): void => {
    for (let j = start[k]; j < start[k + 1]; j += 1) {
      const next = ends[j];
      if (reached[next] === 1) continue;
      reached[next] = 1;
      stack.push(next);
    }
  };
  for (const k of from) spread(k);
  for (let k = stack.pop(); k !== undefined; k = stack.pop()) spread(k);
  return reached;
}

/** Ids of the marked nodes, sorted. */
export function named(index: LineageIndex, marks: Uint8Array): string[] {
  return index.ids.filter((_, k) => marks[k] === 1);
}
