import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../types.ts';
import { algebraicCircle, fitCircle } from './circle-fit.ts';
import { distanceFromAxis, fitCylinder } from './cylinder-fit.ts';
import { dot, frameOf } from './frame.ts';

// prettier-ignore
const circles = [
  {
    // Least-squares fitting of circles and ellipses, BIT 34:558–578, 1994: published 4.7398, 2.9835, radius 4.7142.
    name: 'BIT 1994', points: [1, 7, 2, 6, 5, 8, 7, 7, 9, 5, 3, 7],
    linear: [4.74233129, 3.8351227, 4.10876152], geometric: [4.73978242, 2.98353272, 4.71422602], squares: 1.22759908,
  },
  {
    // Circle fitting by linear and nonlinear least squares, J. Optim. Theory Appl. 76:381–388, 1993:
    // published 3.04324, 0.74568, radius 4.10586.
    name: 'JOTA 1993', points: [0.7, 4, 3.3, 4.7, 5.6, 4, 7.5, 1.3, 6.4, -1.1, 4.4, -3, 0.3, -2.5, -1.1, 1.3],
    linear: [3.06030357, 0.743607321, 4.10913704], geometric: [3.04323826, 0.745678317, 4.10585584],
    squares: 0.295948438,
  },
  {
    // Regression circle example of a university surveying tutorial; results recomputed from the definition.
    name: 'surveying tutorial', points: [11.88, 0.08, 10.34, 8.59, 2.58, 9.54, -0.29, 1.95],
    linear: [6.08144303, 3.63464538, 6.69918365], geometric: [6.08113147, 3.62995117, 6.6987317],
    squares: 0.0772005271,
  },
];

describe('circle fits', () => {
  it.each(circles)('agree with the published results of $name', ({ points, linear, geometric, squares }) => {
    const a = algebraicCircle(points);
    [a?.x, a?.y, a?.radius].forEach((value, i) => expect(value).toBeCloseTo(linear[i], 7));
    const g = fitCircle(points);
    [g?.x, g?.y, g?.radius].forEach((value, i) => expect(value).toBeCloseTo(geometric[i], 7));
    expect((g?.rms ?? NaN) ** 2 * (points.length / 2)).toBeCloseTo(squares, 7);
  });

  it('have no answer for two points or points on a line', () => {
    expect(fitCircle([0, 0, 1, 1])).toBeNull();
    expect(fitCircle([0, 0, 1, 1, 2, 2, 3, 3])).toBeNull();
  });
});

const direction: Vec3 = [1 / 3, 2 / 3, 2 / 3];
const place: Vec3 = [10, -5, 3];

/** Points of the cylinder of radius 1.6 about the axis through `place`, at given angles and heights. */
function onCylinder(angles: readonly number[], heights: readonly number[], radius = 1.6): number[] {
  const { u, v } = frameOf(direction);
  return angles.flatMap(angle =>
    heights.flatMap(h =>
      [0, 1, 2].map(
        k => place[k] + h * direction[k] + radius * (Math.cos(angle) * u[k] + Math.sin(angle) * v[k]),
      ),
    ),
  );
}

// Exact data: any sound fit returns axis, radius and no residual (closed form).
describe('fitCylinder', () => {
  it.each([
    ['full turn', [0, 1.57, 3.14, 4.71]],
    ['short arc of 27°', [0, 0.12, 0.24, 0.36, 0.471]],
  ])('returns exact data exactly: %s', (_, angles) => {
    const fit = fitCylinder(onCylinder(angles, [0, 3, 6]), [0.335, 0.665, 0.667]);
    expect(fit?.radius).toBeCloseTo(1.6, 6);
    expect(Math.abs(dot(fit?.axis ?? [0, 0, 0], direction))).toBeCloseTo(1, 9);
    expect(fit?.max).toBeLessThan(1e-6);
  });

  // Points printed to 14 digits in the worked data for cylinder fits.
  // prettier-ignore
  const printed = [
    10.4310835056, -7.7155417527999, 1, 11.477868588386, -5.1426495001932, 2.4037152060001,
    12.461993309729, -1.8648677625424, 4.633871107678, 9.4770278352, -6.0459443296001, -0.19256958799989,
    9.6975764707955, -3.8159926764091, 1.9672044410114, 10.332492580147, -1.2366281627402, 5.0703818726667,
    7.5689164944001, -6.2844582472001, 1, 8.5221314116136, -4.8573504998068, 3.5962847839999,
    10.204673356938, -2.8017989041243, 6.6994622256553, 8.5229721648, -7.9540556703999, 2.1925695879999,
    10.302423529204, -6.1840073235909, 4.0327955589886, 12.33417408652, -3.4300385039265, 6.2629514606666,
  ];

  it('finds the axis without a start', () => {
    const fit = fitCylinder(printed);
    expect(fit?.radius).toBeCloseTo(1.6, 9);
    expect(Math.abs(dot(fit?.axis ?? [0, 0, 0], direction))).toBeCloseTo(1, 12);
    expect(
      distanceFromAxis({ axis: direction, point: place, radius: 1.6 }, ...(fit?.point ?? place)),
    ).toBeCloseTo(0, 8);
  });

  it('moves with its points and is a minimum', () => {
    const small = fc.double({ min: -0.05, max: 0.05, noNaN: true });
    fc.assert(
      fc.property(fc.array(small, { minLength: 72, maxLength: 72 }), noise => {
        const angles = Array.from({ length: 8 }, (_, i) => (i * Math.PI) / 4);
        const points = onCylinder(angles, [0, 3, 6]).map((c, i) => c + noise[i]);
        const fit = fitCylinder(points, direction);
        if (fit === null) throw new Error('no fit');
        const squares = (radius: number, shift: Vec3) => {
          const point = fit.point.map((c, k) => c + shift[k]) as unknown as Vec3;
          let sum = 0;
          for (let i = 0; i < points.length; i += 3) {
            const d = distanceFromAxis({ ...fit, point }, points[i], points[i + 1], points[i + 2]);
            sum += (d - radius) ** 2;
          }
          return sum;
        };
        const least = squares(fit.radius, [0, 0, 0]);
        expect(least).toBeCloseTo(24 * fit.rms ** 2, 9);
        for (const e of [-1e-3, 1e-3]) {
          expect(squares(fit.radius + e, [0, 0, 0])).toBeGreaterThan(least);
          expect(squares(fit.radius, [e, 0, -e / 2])).toBeGreaterThan(least);
        }
        const far = fitCylinder(
          points.map((c, i) => c + [100, -200, 300][i % 3]),
          direction,
        );
        expect(far?.radius).toBeCloseTo(fit.radius, 6);
      }),
      { numRuns: 50 },
    );
  });

  it('has no answer for too few points or points on a line', () => {
    expect(fitCylinder([0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0])).toBeNull();
    expect(fitCylinder([0, 1, 2, 3, 4, 5, 6].flatMap(i => [i, 0, 0]))).toBeNull();
  });
});
