import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { moved, rotation, scaled } from '../../../mesh/src/testing/motions.ts';
import { box, icosphere, tube } from '../../../mesh/src/testing/shapes.ts';
import { principalSpread } from './principal-spread.ts';
import { shapeDistance } from './shape-distance.ts';
import { shapeSummary } from './shape-summary.ts';

describe('principalSpread', () => {
  test('a box, in closed form', () => {
    // Second moment along the edge a, by hand: the two ends lie at ±a/2, the four sides spread over a²/12.
    const [a, b, c] = [30, 12, 5];
    const area = 2 * (a * b + b * c + c * a);
    const along = (p: number, q: number, r: number) =>
      Math.sqrt((2 * q * r * (p / 2) ** 2 + (area - 2 * q * r) * (p ** 2 / 12)) / area);
    const result = principalSpread(box(a, b, c, [1000, -2000, 500]));
    expect(result.area).toBeCloseTo(area, 6);
    [along(c, a, b), along(b, c, a), along(a, b, c)].forEach((value, i) =>
      expect(result.spread[i]).toBeCloseTo(value, 6),
    );
  });

  test('a ball spreads alike in all directions, by its radius over √3', () => {
    for (const value of principalSpread(icosphere(10, 5)).spread)
      expect(value).toBeCloseTo(10 / Math.sqrt(3), 1);
  });

  test('no motion and no reflection changes a summary; a scale multiplies it', () => {
    const shape = shapeSummary(tube(24, 10, 6, 31), 1000, []);
    // Two equal spreads are a double root, which rounding moves by its square root.
    fc.assert(
      fc.property(
        fc.tuple(...[0, 1, 2, 3].map(() => fc.double({ min: -1, max: 1, noNaN: true }))),
        fc.boolean(),
        ([w, x, y, z], mirror) => {
          fc.pre(Math.hypot(w, x, y, z) > 0.1);
          const mesh = mirror ? scaled(tube(24, 10, 6, 31), -1, 1, 1) : tube(24, 10, 6, 31);
          const other = shapeSummary(moved(mesh, rotation(w, x, y, z), [40, -7, 300 * x]), 1000, []);
          expect(shapeDistance(shape, other)).toBeLessThan(1e-6);
        },
      ),
    );
    const larger = shapeSummary(scaled(tube(24, 10, 6, 31), 2), 8000, []);
    expect(larger.spread_mm[2] / shape.spread_mm[2]).toBeCloseTo(2, 9);
    expect(shapeDistance(shape, larger)).toBeCloseTo(0.01 + Math.log(2) / 4, 9);
  });

  test('degenerate meshes give numbers', () => {
    const none = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    const flat = {
      positions: new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0]),
      triangles: new Uint32Array([0, 1, 2]),
    };
    const summaries = [none, flat, box(1, 1, 1)].map(mesh => shapeSummary(mesh, null, []));
    for (const a of summaries)
      for (const b of summaries) {
        expect(Number.isFinite(shapeDistance(a, b))).toBe(true);
        expect(shapeDistance(a, b)).toBeCloseTo(shapeDistance(b, a), 12);
      }
  });
});
