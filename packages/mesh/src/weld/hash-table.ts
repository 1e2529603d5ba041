/**
 * What both welders share: open addressing with linear probing over flat arrays. A slot holds the number of a
 * vertex plus one; 0 is empty. At most half of the slots are taken.
 */

/** Longest probe that honest data need at half load; beyond it the seed is changed (see `nextSeed`). */
export const firstPatience = 512;

/** Smallest power of two with at least twice as many slots as vertices. */
export function slotsFor(vertices: number): number {
  let slots = 16;
  while (slots < 2 * vertices) slots *= 2;
  return slots;
}

/**
 * A seed that data made to collide under `seed` cannot have aimed at: it depends on the data seen so far.
 * Results never depend on seeds, only speed does.
 */
export function nextSeed(seed: number, words: Int32Array, count: number): number {
  let hash = seed ^ 0x2545f491;
  for (let i = 0; i < count; i++) {
    hash = Math.imul(hash ^ words[i], 0x9e3779b1);
    hash ^= hash >>> 15;
  }
  return hash | 1;
}
