import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { assignSizes } from './assign-sizes.ts';

const squared =
  (wanted: readonly number[], found: readonly number[], reach = Infinity) =>
  (w: number, f: number): number =>
    Math.abs(wanted[w] - found[f]) > reach ? Infinity : (wanted[w] - found[f]) ** 2;

/** All assignments tried: the most pairs, and the least sum of squares among those. */
function best(wanted: readonly number[], found: readonly number[], reach: number): readonly [number, number] {
  const cost = squared(wanted, found, reach);
  const go = (w: number, used: number): readonly [number, number] => {
    if (w === wanted.length) return [0, 0];
    let top = go(w + 1, used);
    for (let f = 0; f < found.length; f++) {
      if ((used & (1 << f)) !== 0 || cost(w, f) === Infinity) continue;
      const [pairs, sum] = go(w + 1, used | (1 << f));
      if (pairs + 1 > top[0] || (pairs + 1 === top[0] && sum + cost(w, f) < top[1]))
        top = [pairs + 1, sum + cost(w, f)];
    }
    return top;
  };
  return go(0, 0);
}

describe('assigning declared sizes to measured ones', () => {
  test('bores of a part scaled by 1.2 are told from each other', () => {
    // 3.0 once and 3.4 twice, all grown: 3.6, 4.08, 4.08.
    const [wanted, found] = [
      [3.0, 3.4, 3.4],
      [4.08, 3.6, 4.08],
    ];
    expect([...assignSizes(wanted, found, squared(wanted, found))]).toEqual([1, 0, 2]);
  });

  test('is as good as the best of all assignments', () => {
    const sizes = fc.array(fc.integer({ min: 1, max: 40 }), { maxLength: 5 });
    fc.assert(
      fc.property(sizes, sizes, fc.integer({ min: 1, max: 40 }), (wanted, found, reach) => {
        const cost = squared(wanted, found, reach);
        const taken = [...assignSizes(wanted, found, cost)];
        const pairs = taken.flatMap((f, w) => (f < 0 ? [] : [[w, f] as const]));
        expect(new Set(pairs.map(([, f]) => f)).size).toBe(pairs.length);
        const sum = pairs.reduce((total, [w, f]) => total + cost(w, f), 0);
        expect([pairs.length, sum]).toEqual(best(wanted, found, reach));
      }),
    );
  });

  test('stays within its work where a manifest declares thousands', () => {
    const many = Array.from({ length: 20_000 }, (_, k) => k % 97);
    expect(assignSizes(many, many, squared(many, many)).some(f => f >= 0)).toBe(true);
  });
});
