/** Vertices in a hashed grid, to find the one nearest to a point within a small reach. */
export interface VertexGrid {
  readonly positions: ArrayLike<number>;
  readonly cell: number;
  readonly reach: number;
  readonly mask: number;
  readonly heads: Int32Array;
  readonly next: Int32Array;
}

/** Cells much wider than the reach, so that nearly every look-up needs only one. */
const CELL_REACHES = 32;

export function buildVertexGrid(positions: ArrayLike<number>, reach: number): VertexGrid {
  const count = positions.length / 3;
  let slots = 16;
  while (slots < 2 * count) slots *= 2;
  const heads = new Int32Array(slots).fill(-1);
  const next = new Int32Array(count);
  const cell = CELL_REACHES * reach;
  for (let v = 0; v < count; v += 1) {
    const slot =
      cellHash(
        Math.floor(positions[3 * v] / cell),
        Math.floor(positions[3 * v + 1] / cell),
        Math.floor(positions[3 * v + 2] / cell),
      ) &
      (slots - 1);
    next[v] = heads[slot];
    heads[slot] = v;
  }
  return { positions, cell, reach, mask: slots - 1, heads, next };
}

/** Index of the nearest vertex within the reach, or −1. */
export function nearestVertex(grid: VertexGrid, x: number, y: number, z: number): number {
  const { positions: p, cell, reach, mask, heads, next } = grid;
  let best = -1;
  let bestSq = reach * reach;
  const i = Math.floor((x - reach) / cell);
  const j = Math.floor((y - reach) / cell);
  const k = Math.floor((z - reach) / cell);
  // A cell is wider than twice the reach, so the next one up is the farthest.
  const di = Math.floor((x + reach) / cell) > i ? 1 : 0;
  const dj = Math.floor((y + reach) / cell) > j ? 1 : 0;
  const dk = Math.floor((z + reach) / cell) > k ? 1 : 0;
  for (let a = i, n = 0; n <= di; a += 1, n += 1) {
    for (let b = j, n = 0; n <= dj; b += 1, n += 1) {
      for (let c = k, n = 0; n <= dk; c += 1, n += 1) {
        for (let v = heads[cellHash(a, b, c) & mask]; v >= 0; v = next[v]) {
          const dx = p[3 * v] - x;
          const dy = p[3 * v + 1] - y;
          const dz = p[3 * v + 2] - z;
          const d = dx * dx + dy * dy + dz * dz;
          if (d <= bestSq) {
            bestSq = d;
            best = v;
          }
        }
      }
    }
  }
  return best;
}

/** Spatial hash of whole cell numbers; primes as in Teschner et al., VMV 2003. */
function cellHash(i: number, j: number, k: number): number {
  return Math.imul(i, 73856093) ^ Math.imul(j, 19349663) ^ Math.imul(k, 83492791);
}
