import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull } from './convex-hull.ts';
import { turnToFit } from './turn-to-fit.ts';

const rectangle = (p: number, q: number) => Float64Array.from([0, 0, p, 0, p, q, 0, q]);
const regular = (sides: number, r: number, turned = 0) =>
  Float64Array.from(
    Array.from({ length: sides }, (_, k) => [
      r * Math.cos((2 * Math.PI * k) / sides + turned),
      r * Math.sin((2 * Math.PI * k) / sides + turned),
    ]).flat(),
  );

/** Width and depth of the upright box around an outline turned by an angle. */
function boxAround(outline: Float64Array, degrees: number): [number, number] {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const xs: number[] = [];
  const ys: number[] = [];
  for (let k = 0; k < outline.length; k += 2) {
    xs.push(c * outline[k] - s * outline[k + 1]);
    ys.push(s * outline[k] + c * outline[k + 1]);
  }
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
}

/** W. B. Carver, The American Mathematical Monthly 64 (1957), 114–116: rectangle p ≥ q in a ≥ b, with p > a. */
function carver(p: number, q: number, a: number, b: number): boolean {
  if (q > b) return false;
  if (p <= a) return true;
  return b * (p * p + q * q) >= 2 * p * q * a + (p * p - q * q) * Math.sqrt(p * p + q * q - a * a);
}

describe('turnToFit', () => {
  it('says of a ruler in a square what the diagonal says', () => {
    // A strip of width w lies along the diagonal of a square of 100 up to a length of 100 √2 − w.
    const longest = 100 * Math.SQRT2 - 10;
    expect(turnToFit(rectangle(longest - 1e-6, 10), 100, 100)).toBe(45);
    expect(turnToFit(rectangle(longest + 1e-6, 10), 100, 100)).toBeNull();
    expect(turnToFit(rectangle(100, 30), 100, 30)).toBe(0);
    expect(turnToFit(rectangle(100, 30), 30, 100)).toBe(90);
  });

  it('says of an equilateral triangle in a square what is known: the largest has side 1 / cos 15°', () => {
    // T. Sundara Row, Geometric Exercises in Paper Folding (1893), from memory: a triangle folded in a square sheet.
    const side = 100 / Math.cos(Math.PI / 12);
    const r = (s: number) => s / Math.sqrt(3);
    for (const turned of [0, 0.3, 1, 2.2]) {
      expect(turnToFit(regular(3, r(side - 1e-6), turned), 100, 100)).not.toBeNull();
      expect(turnToFit(regular(3, r(side + 1e-6), turned), 100, 100)).toBeNull();
    }
  });

  it('agrees with the criterion for a rectangle within a rectangle', () => {
    const side = fc.double({ min: 1, max: 100, noNaN: true });
    fc.assert(
      fc.property(side, side, side, side, fc.double({ min: 0, max: 3, noNaN: true }), (p, q, a, b, angle) => {
        const [long, short] = [Math.max(p, q), Math.min(p, q)];
        const [width, depth] = [Math.max(a, b), Math.min(a, b)];
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const turned = (k: number) => {
          const plain = rectangle(k * long, k * short);
          return plain.map((_, i) =>
            i % 2 === 0 ? c * plain[i] - s * plain[i + 1] : s * plain[i - 1] + c * plain[i],
          );
        };
        // Just larger and just smaller, as rounding decides in between.
        if (carver(long, short, width, depth)) expect(turnToFit(turned(1 - 1e-7), a, b)).not.toBeNull();
        else expect(turnToFit(turned(1 + 1e-7), a, b)).toBeNull();
      }),
    );
  });

  it('agrees with trying every hundredth of a degree, and its answer fits', () => {
    const point = fc.tuple(
      fc.double({ min: -50, max: 50, noNaN: true }),
      fc.double({ min: -50, max: 50, noNaN: true }),
    );
    const side = fc.double({ min: 5, max: 150, noNaN: true });
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 12 }), side, side, (points, a, b) => {
        const hull = convexHull(Float64Array.from(points.flat()));
        const answer = turnToFit(hull, a, b);
        if (answer !== null) {
          const [width, depth] = boxAround(hull, answer);
          expect(width).toBeLessThanOrEqual(a + 1e-9);
          expect(depth).toBeLessThanOrEqual(b + 1e-9);
          return;
        }
        for (let k = 0; k < 18_000; k++) {
          const [width, depth] = boxAround(hull, k / 100);
          if (width <= a - 1e-9 && depth <= b - 1e-9) throw new Error(`It fits turned by ${k / 100}°.`);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('finds turns between whole degrees', () => {
    // By Carver, a strip of length p and width q fits this depth at one angle alone, which is no whole degree.
    const [p, q, a] = [120, 3, 100];
    const b = (2 * p * q * a + (p * p - q * q) * Math.sqrt(p * p + q * q - a * a)) / (p * p + q * q) + 1e-7;
    const answer = turnToFit(rectangle(p, q), a, b);
    expect(answer).not.toBeNull();
    expect(answer).not.toBe(Math.round(answer ?? 0));
    const [width, depth] = boxAround(rectangle(p, q), answer ?? 0);
    expect(width).toBeLessThanOrEqual(a + 1e-9);
    expect(depth).toBeLessThanOrEqual(b + 1e-9);
  });
});

describe('convexHull', () => {
  it.each<readonly [string, readonly number[], readonly number[]]>([
    [
      'a square with points within and on its edges',
      [0, 0, 2, 0, 2, 2, 0, 2, 1, 1, 1, 0, 2, 1],
      [0, 0, 2, 0, 2, 2, 0, 2],
    ],
    ['points on a line', [0, 0, 1, 1, 2, 2], [0, 0, 2, 2]],
    ['one point three times', [1, 1, 1, 1, 1, 1], [1, 1]],
    ['no point', [], []],
  ])('of %s', (_, points, corners) => {
    expect([...convexHull(Float64Array.from(points))]).toEqual(corners);
  });

  it('holds every point to its left, and its corners are points', () => {
    const small = fc.integer({ min: -8, max: 8 });
    fc.assert(
      fc.property(fc.array(fc.tuple(small, small), { minLength: 1, maxLength: 40 }), points => {
        const hull = convexHull(Float64Array.from(points.flat()));
        const n = hull.length / 2;
        for (let k = 0; k < n; k++) {
          const [x, y] = [hull[2 * k], hull[2 * k + 1]];
          expect(points.some(([px, py]) => px === x && py === y)).toBe(true);
          const next = (k + 1) % n;
          for (const [px, py] of points)
            expect(
              (hull[2 * next] - x) * (py - y) - (hull[2 * next + 1] - y) * (px - x),
            ).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });
});
