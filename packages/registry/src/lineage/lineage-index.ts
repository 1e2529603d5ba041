import { byText } from '@kinprint/compare';
import type { LineageGraph } from './types.ts';

/** Neighbors of every node: those of node `k` are `ends[start[k]] … ends[start[k + 1] - 1]`, ascending, each once. */
export interface Links {
  readonly start: Uint32Array;
  readonly ends: Uint32Array;
}

/** A lineage with numbered nodes. Numbers follow the text order of the ids, so no answer depends on the order of input. */
export interface LineageIndex {
  readonly ids: readonly string[];
  readonly numberOf: ReadonlyMap<string, number>;
  /** What a node came from. */
  readonly older: Links;
  /** What came from a node. */
  readonly newer: Links;
}

/** Numbers the nodes and sorts the links; O(n log n + e). Links with an end that is no node are left out: see `danglingEnds`. */
export function indexLineage(graph: LineageGraph): LineageIndex {
  const ids = graph.nodes.map(node => node.id).sort(byText);
  const numberOf = new Map(ids.map((id, k) => [id, k]));
  if (numberOf.size !== ids.length) throw new Error('Two nodes of a lineage have the same id.');
  const from: number[] = [];
  const to: number[] = [];
  for (const edge of graph.edges) {
    const a = numberOf.get(edge.from);
    const b = numberOf.get(edge.to);
    if (a === undefined || b === undefined) continue;
    from.push(a);
    to.push(b);
  }
  // Sorting by one end and then, stably, by the other leaves every row ascending.
  const rough = links(ids.length, to, from);
  const older = links(ids.length, ...pairs(rough));
  return { ids, numberOf, older, newer: links(ids.length, ...pairs(older)) };
}

/** Rows by counting sort; repeats that follow each other are dropped. */
function links(n: number, row: ArrayLike<number>, end: ArrayLike<number>): Links {
  const count = new Uint32Array(n + 1);
  for (let k = 0; k < row.length; k += 1) count[row[k] + 1] += 1;
  for (let k = 0; k < n; k += 1) count[k + 1] += count[k];
  const place = count.slice(0, n);
  const all = new Uint32Array(row.length);
  for (let k = 0; k < row.length; k += 1) all[place[row[k]]++] = end[k];
  const start = new Uint32Array(n + 1);
  const ends = new Uint32Array(row.length);
  let used = 0;
  for (let r = 0; r < n; r += 1) {
    for (let k = count[r]; k < count[r + 1]; k += 1)
      if (k === count[r] || all[k] !== all[k - 1]) ends[used++] = all[k];
    start[r + 1] = used;
  }
  return { start, ends: ends.slice(0, used) };
}

/** Every link as (end, row), ordered by row. */
function pairs({ start, ends }: Links): [Uint32Array, Uint32Array] {
  const row = new Uint32Array(ends.length);
  for (let r = 0; r + 1 < start.length; r += 1) row.fill(r, start[r], start[r + 1]);
  return [ends, row];
}

/** Numbers of ids. @throws Error for an id that is no node: whoever asks has looked it up. */
export function numbersOf(index: LineageIndex, ids: readonly string[]): number[] {
  return ids.map(id => {
    const k = index.numberOf.get(id);
    if (k === undefined) throw new Error(`${id} is no node of this lineage.`);
    return k;
  });
}
