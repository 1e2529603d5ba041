/**
 * Pseudo-random numbers in [0, 1) from a 32-bit seed, so that the same two files always give the same result.
 * A Weyl sequence through a 32-bit mixing function; from memory, common practice, no claim beyond even spread.
 */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
