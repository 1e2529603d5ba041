/** Beyond this many pairs the assignment takes the best pairs first instead of the best whole. */
const mostPairs = 2_000_000;

/**
 * Assigns wanted sizes to found ones, each found one at most once: as many as possible, and of all such assignments
 * one with the least sum of squared differences. A part scaled as a whole thus keeps small bores for small ones, where
 * taking the nearest pairs first would hand the small bore of one interface to the next larger one.
 *
 * On a line such an assignment need not cross (the smaller wanted takes the smaller found), so it is found by dynamic
 * programming over both lists in the order of their sizes, in time and memory of the product of their lengths.
 *
 * @param cost squared difference of a pair; Infinity where the two must not be paired
 * @returns per wanted size the index of the found one, or −1
 */
export function assignSizes(
  wanted: readonly number[],
  found: readonly number[],
  cost: (w: number, f: number) => number,
): Int32Array {
  const ws = inOrder(wanted);
  const fs = inOrder(found);
  if (ws.length * fs.length > mostPairs) return nearestFirst(ws, fs, cost);
  const columns = fs.length + 1;
  const count = new Int32Array((ws.length + 1) * columns);
  const sum = new Float64Array(count.length);
  const better = (a: number, costA: number, b: number): boolean =>
    a > count[b] || (a === count[b] && costA < sum[b]);
  for (let i = 1; i <= ws.length; i++) {
    for (let j = 1; j <= fs.length; j++) {
      const here = i * columns + j;
      const [up, left, before] = [here - columns, here - 1, here - columns - 1];
      const from = better(count[left], sum[left], up) ? left : up;
      count[here] = count[from];
      sum[here] = sum[from];
      const pair = cost(ws[i - 1], fs[j - 1]);
      if (pair < Infinity && better(count[before] + 1, sum[before] + pair, here)) {
        count[here] = count[before] + 1;
        sum[here] = sum[before] + pair;
      }
    }
  }
  const taken = new Int32Array(ws.length).fill(-1);
  for (let i = ws.length, j = fs.length; i > 0 && j > 0;) {
    const here = i * columns + j;
    const same = (other: number): boolean => count[here] === count[other] && sum[here] === sum[other];
    if (same(here - columns)) i--;
    else if (same(here - 1)) j--;
    else taken[ws[--i]] = fs[--j];
  }
  return taken;
}

function inOrder(sizes: readonly number[]): number[] {
  return sizes.map((_, k) => k).sort((a, b) => sizes[a] - sizes[b] || a - b);
}

/** Every wanted size, from the smallest on, takes the nearest that is left. */
function nearestFirst(
  ws: readonly number[],
  fs: readonly number[],
  cost: (w: number, f: number) => number,
): Int32Array {
  const taken = new Int32Array(ws.length).fill(-1);
  const left = new Set(fs);
  for (const w of ws.slice(0, Math.ceil(mostPairs / Math.max(1, fs.length)))) {
    let best = -1;
    for (const f of left) if (cost(w, f) < (best < 0 ? Infinity : cost(w, best))) best = f;
    taken[w] = best;
    left.delete(best);
  }
  return taken;
}
