import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sideBySide } from './side-by-side.ts';

describe('labels beside each other', () => {
  it('the first stays, one on the same spot goes to its right', () => {
    expect(
      sideBySide(
        [
          { x: 5, y: 7 },
          { x: 5, y: 7 },
          { x: 50, y: 7 },
        ],
        10,
      ),
    ).toEqual([
      { x: 5, y: 7 },
      { x: 15, y: 7 },
      { x: 50, y: 7 },
    ]);
  });

  it('none covers another, and none goes up, down or left', () => {
    const spot = fc.record({ x: fc.integer({ min: 0, max: 60 }), y: fc.integer({ min: 0, max: 60 }) });
    fc.assert(
      fc.property(fc.array(spot, { maxLength: 12 }), spots => {
        const placed = sideBySide(spots, 10);
        placed.forEach(({ x, y }, k) => {
          expect(y).toBe(spots[k].y);
          expect(x).toBeGreaterThanOrEqual(spots[k].x);
          for (const other of placed.slice(0, k))
            expect(Math.hypot(other.x - x, other.y - y)).toBeGreaterThan(10 - 1e-5);
        });
      }),
    );
  });
});
