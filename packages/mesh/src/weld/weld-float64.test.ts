import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createFloat64Welder, float64Positions, weldFloat64 } from './weld-float64.ts';

describe('weldFloat64', () => {
  it('agrees with a map keyed by text, from any starting size (property)', () => {
    const coordinate = fc.oneof(
      fc.constantFrom(0, -0, 1, 1 + Number.EPSILON, 5e-324),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate, coordinate)), fc.nat(20), (points, expected) => {
        const welder = createFloat64Welder(expected);
        const seen = new Map<string, number>();
        for (const [x, y, z] of [...points, ...points]) {
          const key = [x + 0, y + 0, z + 0].join();
          if (!seen.has(key)) seen.set(key, seen.size);
          expect(weldFloat64(welder, x, y, z)).toBe(seen.get(key));
        }
        expect([...float64Positions(welder)].join()).toBe([...seen.keys()].join());
      }),
    );
  });

  it('keeps the vertices when collisions make it change the seed', () => {
    const welder = createFloat64Welder(1000);
    welder.patience = 1;
    for (let i = 0; i < 1000; i++) expect(weldFloat64(welder, i, 0, 0)).toBe(i);
    expect(welder.patience).toBeGreaterThan(1);
    for (let i = 0; i < 1000; i++) expect(weldFloat64(welder, i, 0, 0)).toBe(i);
  });
});
