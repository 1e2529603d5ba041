import fc from 'fast-check';
import { fingerprintValues, surfaceValues, type Fingerprint } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { kinIndex, nearestPrints } from './kin-index.ts';

const print = (seed: number, solid: boolean): Fingerprint => ({
  // Few different values, so that ties occur.
  values: Float32Array.from({ length: fingerprintValues }, (_, k) =>
    !solid && k >= surfaceValues ? 0 : Math.round(3 * Math.abs(Math.sin(seed * 12.9 + k * 7.1))) / 8,
  ),
  solid,
  size_mm: 10,
});

/** The slow way: every distance, sorted. */
function slowly(prints: readonly Fingerprint[], own: Fingerprint, limit: number, farthest: number): number[] {
  return prints
    .map(other =>
      Math.sqrt(
        own.values.reduce(
          (sum, value, k) =>
            k >= surfaceValues && !(own.solid && other.solid) ? sum : sum + (value - other.values[k]) ** 2,
          0,
        ),
      ),
    )
    .filter(distance => distance <= farthest)
    .sort((a, b) => a - b)
    .slice(0, limit);
}

describe('nearestPrints', () => {
  it('finds what looking at all distances finds', () => {
    const one = fc
      .tuple(fc.integer({ min: 0, max: 40 }), fc.boolean())
      .map(([seed, solid]) => print(seed, solid));
    fc.assert(
      fc.property(
        fc.array(one, { maxLength: 60 }),
        one,
        fc.integer({ min: 0, max: 12 }),
        fc.constantFrom(Infinity, 1, 0.4),
        (prints, own, limit, farthest) => {
          const found = nearestPrints(kinIndex(prints), own, limit, farthest);
          const expected = slowly(prints, own, limit, farthest);
          expect(found).toHaveLength(expected.length);
          found.forEach(({ distance }, k) => expect(distance).toBeCloseTo(expected[k], 9));
          expect(new Set(found.map(f => f.entry)).size).toBe(found.length);
        },
      ),
    );
  });

  it('answers among 100 000 in well under a second', () => {
    const prints = Array.from({ length: 100_000 }, (_, k) => print(k, k % 7 > 0));
    const index = kinIndex(prints);
    const start = process.cpuUsage();
    const found = nearestPrints(index, print(77_777, true), 24);
    const spent = process.cpuUsage(start);
    expect(found[0].distance).toBe(0);
    expect((spent.user + spent.system) / 1e6).toBeLessThan(0.5);
  });
});
