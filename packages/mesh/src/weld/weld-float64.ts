import { firstPatience, nextSeed, slotsFor } from './hash-table.ts';

/**
 * Joins vertices of doubles whose coordinates are equal, −0 counting as 0. The counterpart of the 32-bit welder
 * for formats that carry decimal numbers or doubles.
 */
export interface Float64Welder {
  /** Coordinates, three to a vertex. */
  positions: Float64Array;
  /** The same memory as pairs of 32-bit words. */
  words: Int32Array;
  /** Vertices so far. */
  count: number;
  /** Number of a vertex plus one per slot; see hash-table.ts. */
  table: Int32Array;
  seed: number;
  /** Longest probe before the seed is changed; doubles each time, so that changing ends. */
  patience: number;
}

/** An empty welder with room for `expected` vertices; it grows beyond as needed. */
export function createFloat64Welder(expected: number): Float64Welder {
  const positions = new Float64Array(3 * Math.max(8, expected));
  return {
    positions,
    words: new Int32Array(positions.buffer),
    count: 0,
    table: new Int32Array(slotsFor(expected)),
    seed: 0x3c6ef372,
    patience: firstPatience,
  };
}

/** The number of the vertex at finite `x`, `y`, `z`. */
export function weldFloat64(welder: Float64Welder, x: number, y: number, z: number): number {
  if (3 * welder.count === welder.positions.length) grow(welder);
  const { positions, table, patience, seed } = welder;
  // Written where it would stay if new; adding 0 turns −0 into 0.
  const end = 3 * welder.count;
  positions[end] = x + 0;
  positions[end + 1] = y + 0;
  positions[end + 2] = z + 0;
  const mask = table.length - 1;
  let slot = hashAt(welder.words, welder.count, seed) & mask;
  for (let probe = 0; probe < patience; probe++) {
    const found = table[slot];
    if (found === 0) return take(welder, slot);
    const at = 3 * found - 3;
    if (positions[at] === x && positions[at + 1] === y && positions[at + 2] === z) return found - 1;
    slot = (slot + 1) & mask;
  }
  welder.patience = 2 * patience;
  rebuild(welder, table.length, nextSeed(seed, welder.words, 6 * welder.count));
  return weldFloat64(welder, x, y, z);
}

/** The coordinates welded so far as a tight array of their own. */
export function float64Positions(welder: Float64Welder): Float64Array {
  return welder.positions.slice(0, 3 * welder.count);
}

function take(welder: Float64Welder, slot: number): number {
  const index = welder.count++;
  welder.table[slot] = index + 1;
  if (2 * welder.count > welder.table.length) rebuild(welder, 2 * welder.table.length, welder.seed);
  return index;
}

function grow(welder: Float64Welder): void {
  const positions = new Float64Array(2 * welder.positions.length);
  positions.set(welder.positions);
  welder.positions = positions;
  welder.words = new Int32Array(positions.buffer);
}

function hashAt(words: Int32Array, vertex: number, seed: number): number {
  let hash = seed;
  for (let i = 6 * vertex, end = i + 6; i < end; i++) {
    hash = Math.imul(hash ^ words[i] ^ (words[i] >>> 15), 0x85ebca6b);
    hash ^= hash >>> 14;
  }
  return hash;
}

function rebuild(welder: Float64Welder, slots: number, seed: number): void {
  const table = new Int32Array(slots);
  const mask = slots - 1;
  for (let index = 0; index < welder.count; index++) {
    let slot = hashAt(welder.words, index, seed) & mask;
    while (table[slot] !== 0) slot = (slot + 1) & mask;
    table[slot] = index + 1;
  }
  welder.table = table;
  welder.seed = seed;
}
