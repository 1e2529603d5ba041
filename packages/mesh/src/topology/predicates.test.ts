import { describe, expect, it } from 'vitest';
import { side, turn } from './predicates.ts';

describe('predicates', () => {
  it('turn is positive for a left turn with y up', () => {
    expect(turn(0, 0, 1, 0, 0, 1)).toBeGreaterThan(0);
    expect(turn(0, 0, 0, 1, 1, 0)).toBeLessThan(0);
    // On one line only after exact arithmetic: the doubles nearest 0.1, 0.2, 0.7 taken for x and y alike.
    expect(Math.abs(turn(0.1, 0.1, 0.2, 0.2, 0.7, 0.7))).toBe(0);
  });

  it('side is positive above a face that is counter-clockwise from above', () => {
    const points = [0, 0, 0, 1, 0, 0, 0, 1, 0];
    expect(side(points, 0, 3, 6, [0.2, 0.2, 1], 0)).toBeGreaterThan(0);
    expect(side(points, 0, 3, 6, [7, 9, 9, -1e-200], 1)).toBeLessThan(0);
    expect(Math.abs(side(points, 0, 3, 6, [9, 9, 0], 0))).toBe(0);
  });
});
