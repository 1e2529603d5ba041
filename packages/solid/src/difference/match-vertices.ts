import type { Mesh } from '@kinprint/mesh';

export type Positions = Mesh['positions'];

/**
 * Pairs each vertex of `before` with the nearest vertex of `after` within `radius`, at most one partner each.
 * Result: per vertex of `before` the index in `after`, or −1. Between two claims on one vertex the nearer wins.
 *
 * A hash of cells, each wider than the radius; expected time linear in the vertices.
 */
export function matchVertices(before: Positions, after: Positions, radius: number): Int32Array {
  const grid = buildGrid(after, radius);
  const count = before.length / 3;
  const partner = new Int32Array(count).fill(-1);
  const claimedBy = new Int32Array(after.length / 3).fill(-1);
  const claimedAt = new Float64Array(after.length / 3);
  const found = { vertex: -1, distanceSq: 0 };
  for (let v = 0; v < count; v++) {
    findNearest(grid, before[3 * v], before[3 * v + 1], before[3 * v + 2], radius, found);
    const { vertex, distanceSq } = found;
    if (vertex < 0) continue;
    const rival = claimedBy[vertex];
    if (rival >= 0) {
      if (claimedAt[vertex] <= distanceSq) continue;
      partner[rival] = -1;
    }
    claimedBy[vertex] = v;
    claimedAt[vertex] = distanceSq;
    partner[v] = vertex;
  }
  return partner;
}

interface Grid {
  readonly positions: Positions;
  readonly perCell: number;
  readonly mask: number;
  /** Per hash slot the first vertex, then chained by `next`; −1 ends a chain. */
  readonly first: Int32Array;
  readonly next: Int32Array;
}

function buildGrid(positions: Positions, radius: number): Grid {
  const count = positions.length / 3;
  let slots = 16;
  while (slots < 2 * count) slots *= 2;
  // Never finer than a billionth of the largest coordinate, so that cell numbers stay exact whole numbers.
  let largest = 0;
  for (const x of positions) largest = Math.max(largest, Math.abs(x));
  const cell = Math.max(4 * radius, spacing(positions) / 2, 1e-9 * largest, Number.MIN_VALUE * 2 ** 60);
  const grid = {
    positions,
    perCell: Number.isFinite(cell) ? 1 / cell : 1,
    mask: slots - 1,
    first: new Int32Array(slots).fill(-1),
    next: new Int32Array(count),
  };
  for (let v = 0; v < count; v++) {
    const slot = slotOf(
      Math.floor(positions[3 * v] * grid.perCell),
      Math.floor(positions[3 * v + 1] * grid.perCell),
      Math.floor(positions[3 * v + 2] * grid.perCell),
      grid.mask,
    );
    grid.next[v] = grid.first[slot];
    grid.first[slot] = v;
  }
  return grid;
}

/** Rough distance between neighboring vertices of a surface: diagonal over the root of their number. */
export function spacing(positions: Positions): number {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const x = positions[i + k];
      if (x < min[k]) min[k] = x;
      if (x > max[k]) max[k] = x;
    }
  }
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) / Math.sqrt(positions.length / 3);
}

function slotOf(x: number, y: number, z: number, mask: number): number {
  let h = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca6b) ^ Math.imul(z, 0xc2b2ae35);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return (h ^ (h >>> 13)) & mask;
}

function findNearest(
  grid: Grid,
  x: number,
  y: number,
  z: number,
  radius: number,
  found: { vertex: number; distanceSq: number },
): void {
  const { positions, perCell, mask, first, next } = grid;
  found.vertex = -1;
  let best = radius * radius;
  const x1 = Math.floor((x + radius) * perCell);
  const y1 = Math.floor((y + radius) * perCell);
  const z1 = Math.floor((z + radius) * perCell);
  for (let cx = Math.floor((x - radius) * perCell); cx <= x1; cx++) {
    for (let cy = Math.floor((y - radius) * perCell); cy <= y1; cy++) {
      for (let cz = Math.floor((z - radius) * perCell); cz <= z1; cz++) {
        for (let v = first[slotOf(cx, cy, cz, mask)]; v >= 0; v = next[v]) {
          const dx = positions[3 * v] - x;
          const dy = positions[3 * v + 1] - y;
          const dz = positions[3 * v + 2] - z;
          const distanceSq = dx * dx + dy * dy + dz * dz;
          if (distanceSq < best || (distanceSq === best && (found.vertex < 0 || v < found.vertex))) {
            best = distanceSq;
            found.vertex = v;
          }
        }
      }
    }
  }
  found.distanceSq = best;
}
