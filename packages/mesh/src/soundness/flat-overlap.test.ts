import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { overlapInPlane } from './flat-overlap.ts';

type Point = readonly [number, number];

function area(polygon: readonly Point[]): number {
  return polygon.reduce((sum, [x, y], i) => {
    const [u, v] = polygon[(i + 1) % polygon.length];
    return sum + (x * v - u * y) / 2;
  }, 0);
}

/** The slow judge: area of one triangle clipped to the other (I. Sutherland, G. Hodgman, 1974). */
function commonArea(one: readonly Point[], two: readonly Point[]): number {
  const ccw = (t: readonly Point[]) => (area(t) < 0 ? [...t].reverse() : [...t]);
  const frame = ccw(two);
  let polygon = ccw(one);
  frame.forEach(([ax, ay], k) => {
    const [bx, by] = frame[(k + 1) % 3];
    const height = ([x, y]: Point) => (bx - ax) * (y - ay) - (by - ay) * (x - ax);
    polygon = polygon.flatMap((p, i): Point[] => {
      const q = polygon[(i + 1) % polygon.length];
      const [hp, hq] = [height(p), height(q)];
      const kept: Point[] = hp >= 0 ? [p] : [];
      if (hp * hq >= 0) return kept;
      const t = hp / (hp - hq);
      return [...kept, [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]];
    });
  });
  return area(polygon);
}

describe('overlapInPlane', () => {
  it('is true exactly when the common area is not nothing, in any plane and order', () => {
    const point = fc.tuple(fc.integer({ min: -6, max: 6 }), fc.integer({ min: -6, max: 6 }));
    let overlapping = 0;
    fc.assert(
      fc.property(fc.array(point, { minLength: 6, maxLength: 6 }), fc.nat(2), (points, axis) => {
        const [one, two] = [points.slice(0, 3), points.slice(3)];
        // Tilted by whole numbers, so that the plane stays exact.
        const place = ([x, y]: Point) => {
          const lifted = [x, y, 2 * x - 3 * y + 1];
          return [0, 1, 2].map(k => lifted[(k + axis) % 3]);
        };
        const flat = area(one) === 0 || area(two) === 0;
        const expected = !flat && commonArea(one, two) > 1e-9;
        if (expected) overlapping++;
        expect(overlapInPlane(points.flatMap(place), 0, 3, 6, 9, 12, 15)).toBe(expected);
        expect(overlapInPlane(points.flatMap(place), 15, 12, 9, 3, 0, 6)).toBe(expected);
      }),
      { numRuns: 1000 },
    );
    expect(overlapping).toBeGreaterThan(100);
  });
});
