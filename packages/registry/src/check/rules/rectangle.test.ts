import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rectangleFits } from './rectangle.ts';

/** The slow way: the upright box around the rectangle, turned in small steps. */
function fitsAtSomeAngle(p: number, q: number, a: number, b: number): boolean {
  const steps = 20_000;
  for (let k = 0; k <= steps; k++) {
    const t = (k / steps) * (Math.PI / 2);
    const [c, s] = [Math.cos(t), Math.sin(t)];
    if (p * c + q * s <= a && p * s + q * c <= b) return true;
  }
  return false;
}

describe('rectangleFits', () => {
  it('says of strips in a square what the diagonal says', () => {
    // A strip of no width lies along the diagonal: √2 · 100. One of width w fits up to √2 · 100 − w.
    const diagonal = 100 * Math.SQRT2;
    expect(rectangleFits(diagonal - 1e-9, 0, 100, 100)).toBe(true);
    expect(rectangleFits(diagonal + 1e-6, 0, 100, 100)).toBe(false);
    expect(rectangleFits(diagonal - 10 - 1e-9, 10, 100, 100)).toBe(true);
    expect(rectangleFits(diagonal - 10 + 1e-6, 10, 100, 100)).toBe(false);
  });

  it('agrees with trying all angles', () => {
    const side = fc.double({ min: 1, max: 100, noNaN: true });
    fc.assert(
      fc.property(side, side, side, side, (p, q, a, b) => {
        // Just inside and just outside, by more than the steps of the angle miss.
        if (rectangleFits(p * 1.0002, q * 1.0002, a, b)) expect(fitsAtSomeAngle(p, q, a, b)).toBe(true);
        if (fitsAtSomeAngle(p * 1.0002, q * 1.0002, a, b)) expect(rectangleFits(p, q, a, b)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});
