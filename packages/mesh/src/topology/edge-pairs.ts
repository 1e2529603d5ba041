import type { Mesh } from '../types.ts';
import { classifyLeftovers, type EdgeClasses } from './leftover-edges.ts';

/**
 * How the directed edges of a mesh meet.
 *
 * Directed edge `h` runs from corner `h % 3` of face `h / 3` (rounded down) to that face's next corner. Faces with
 * two equal corners (index-degenerate) take no part: their directed edges have no twin and count nowhere.
 */
export interface EdgePairs extends EdgeClasses {
  /** 3·F: the other directed edge where exactly two faces meet on the edge, in either direction; −1 elsewhere. */
  readonly twins: Int32Array;
  /** Number of faces with two equal corners. */
  readonly collapsedFaces: number;
}

/** A vertex with more rising edges than this has them sorted, so that a hub of many faces stays cheap. */
const SORT_ABOVE = 24;

/** No twin found. */
const ALONE = -1;
/** More than one directed edge of one direction: decided among the leftovers. */
const CROWDED = -2;

/**
 * Pairs the directed edges of a mesh, in time linear in its size (a hub vertex adds a sort of its edges).
 *
 * Every edge is filed under its lower vertex. The rising directed edges (from the lower vertex) are laid out vertex
 * by vertex; each falling one then looks for its partner in the short list of its lower vertex. Only what does not
 * pair one to one goes on to the slower classification.
 */
export function pairEdges(mesh: Mesh): EdgePairs {
  const { triangles } = mesh;
  const corners = triangles.length;
  const vertexCount = mesh.positions.length / 3;
  const twins = new Int32Array(corners).fill(ALONE);
  const { starts, rising, collapsedFaces } = fileRisingEdges(triangles, vertexCount);

  let paired = 0;
  for (let base = 0; base < corners; base += 3) {
    const a = triangles[base];
    const b = triangles[base + 1];
    const c = triangles[base + 2];
    if (a === b || b === c || c === a) continue;
    if (a > b) paired += pairFalling(base, b, a, starts, rising, twins);
    if (b > c) paired += pairFalling(base + 1, c, b, starts, rising, twins);
    if (c > a) paired += pairFalling(base + 2, a, c, starts, rising, twins);
  }

  const partners = 2 * paired;
  const taking = corners - 3 * collapsedFaces;
  const rest = classifyLeftovers(mesh, twins, taking - partners);
  return { twins, ...rest, edges: paired + rest.edges, collapsedFaces };
}

interface RisingEdges {
  /** V+1: the rising edges from vertex v are `rising[starts[v] … starts[v+1])`. */
  readonly starts: Int32Array;
  /** Directed edges, and their heads: `rising[2i]`, `rising[2i+1]`. */
  readonly rising: Int32Array;
  readonly collapsedFaces: number;
}

function fileRisingEdges(triangles: Uint32Array, vertexCount: number): RisingEdges {
  const corners = triangles.length;
  // Counted one place ahead, so that after filling, `starts` has moved into its final position.
  const starts = new Int32Array(vertexCount + 2);
  let collapsedFaces = 0;
  for (let base = 0; base < corners; base += 3) {
    const a = triangles[base];
    const b = triangles[base + 1];
    const c = triangles[base + 2];
    if (a === b || b === c || c === a) {
      collapsedFaces++;
      continue;
    }
    if (a < b) starts[a + 2]++;
    if (b < c) starts[b + 2]++;
    if (c < a) starts[c + 2]++;
  }
  for (let v = 2; v < starts.length; v++) starts[v] += starts[v - 1];

  const rising = new Int32Array(2 * starts[vertexCount + 1]);
  for (let base = 0; base < corners; base += 3) {
    const a = triangles[base];
    const b = triangles[base + 1];
    const c = triangles[base + 2];
    if (a === b || b === c || c === a) continue;
    if (a < b) {
      const at = 2 * starts[a + 1]++;
      rising[at] = base;
      rising[at + 1] = b;
    }
    if (b < c) {
      const at = 2 * starts[b + 1]++;
      rising[at] = base + 1;
      rising[at + 1] = c;
    }
    if (c < a) {
      const at = 2 * starts[c + 1]++;
      rising[at] = base + 2;
      rising[at + 1] = a;
    }
  }
  for (let v = 0; v < vertexCount; v++) {
    if (starts[v + 1] - starts[v] > SORT_ABOVE) sortByHead(rising, starts[v], starts[v + 1]);
  }
  return { starts, rising, collapsedFaces };
}

/** Sorts entries [from, to) of `rising` by head, equal heads by directed edge. */
function sortByHead(rising: Int32Array, from: number, to: number): void {
  const SHIFT = 2 ** 32;
  const keys = new BigUint64Array(to - from);
  for (let i = from; i < to; i++) keys[i - from] = BigInt(rising[2 * i + 1] * SHIFT) + BigInt(rising[2 * i]);
  keys.sort();
  for (let i = from; i < to; i++) {
    const key = keys[i - from];
    rising[2 * i + 1] = Number(key >> 32n);
    rising[2 * i] = Number(key & 0xffffffffn);
  }
}

/**
 * Looks for the one rising partner of falling edge `h`, which joins `low` and `high`; returns 1 for a new pair,
 * −1 when a pair found earlier turns out to be a crowd, else 0.
 */
function pairFalling(
  h: number,
  low: number,
  high: number,
  starts: Int32Array,
  rising: Int32Array,
  twins: Int32Array,
): number {
  let from = starts[low];
  const to = starts[low + 1];
  if (to - from > SORT_ABOVE) from = firstWithHead(rising, from, to, high);
  let found = ALONE;
  let crowded = false;
  for (let i = from; i < to; i++) {
    if (rising[2 * i + 1] !== high) {
      if (to - from > SORT_ABOVE) break;
      continue;
    }
    if (found !== ALONE) crowded = true;
    else found = rising[2 * i]!;
  }
  if (found === ALONE) return 0;
  const earlier = twins[found];
  if (!crowded && earlier === ALONE) {
    twins[found] = h;
    twins[h] = found;
    return 1;
  }
  twins[h] = CROWDED;
  twins[found] = CROWDED;
  if (earlier < 0) return 0;
  twins[earlier] = CROWDED;
  return -1;
}

function firstWithHead(rising: Int32Array, from: number, to: number, head: number): number {
  let low = from;
  let high = to;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (rising[2 * middle + 1] < head) low = middle + 1;
    else high = middle;
  }
  return low;
}
