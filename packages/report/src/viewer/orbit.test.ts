import type { Vec3 } from '@kinprint/mesh';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anglesToward, axesOf, between, fittingSpan, shifted, turned, zoomed, type Orbit } from './orbit.ts';
import { dot, minus, unit } from './vector.ts';

const angle = fc.double({ min: -3, max: 3, noNaN: true });
const number = fc.double({ min: -50, max: 50, noNaN: true });
const anyOrbit: fc.Arbitrary<Orbit> = fc.record({
  target_mm: fc.tuple(number, number, number),
  azimuth: angle,
  elevation: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
  span_mm: fc.double({ min: 0.1, max: 500, noNaN: true }),
});

describe('a view', () => {
  it('has three unit axes at right angles, right-handed, with z never downward in the picture', () => {
    fc.assert(
      fc.property(anyOrbit, orbit => {
        const { right, up, toward } = axesOf(orbit);
        for (const axis of [right, up, toward]) expect(dot(axis, axis)).toBeCloseTo(1, 12);
        expect(dot(right, up)).toBeCloseTo(0, 12);
        expect(dot(right, toward)).toBeCloseTo(0, 12);
        const [rx, ry, rz] = right;
        const [ux, uy, uz] = up;
        // right × up
        expect([ry * uz - rz * uy, rz * ux - rx * uz, rx * uy - ry * ux]).toEqual(
          toward.map(v => expect.closeTo(v, 12) as number),
        );
        expect(up[2]).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it('looks against the direction that it is given; from the front x leads to the right', () => {
    fc.assert(
      fc.property(fc.tuple(number, number, number), v => {
        fc.pre(Math.hypot(...v) > 1e-3);
        const { toward } = axesOf(anglesToward(v));
        expect(Math.hypot(...minus(toward, unit(v)))).toBeLessThan(1e-7);
      }),
    );
    const rounded = ({ right, up }: ReturnType<typeof axesOf>): (readonly number[])[] =>
      [right, up].map(axis => axis.map(v => Math.round(v) + 0));
    expect(rounded(axesOf(anglesToward([0, -1, 0])))).toEqual([
      [1, 0, 0],
      [0, 0, 1],
    ]);
    expect(rounded(axesOf(anglesToward([0, 0, 1])))).toEqual([
      [1, 0, 0],
      [0, 1, 0],
    ]);
  });

  it('does not go over the top, nor farther or nearer than the part allows', () => {
    fc.assert(
      fc.property(
        anyOrbit,
        number,
        number,
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (orbit, a, e, f) => {
          expect(Math.abs(turned(orbit, { azimuth: a, elevation: e }).elevation)).toBeLessThanOrEqual(
            Math.PI / 2,
          );
          const { span_mm } = zoomed(orbit, f, 100);
          expect(span_mm).toBeGreaterThanOrEqual(1e-3);
          expect(span_mm).toBeLessThanOrEqual(400);
        },
      ),
    );
  });

  it('shifts in the plane of the picture', () => {
    fc.assert(
      fc.property(anyOrbit, number, number, (orbit, right_mm, up_mm) => {
        const { right, up, toward } = axesOf(orbit);
        const by = minus(orbit.target_mm, shifted(orbit, right_mm, up_mm).target_mm);
        expect([dot(by, right), dot(by, up), dot(by, toward)]).toEqual(
          [right_mm, up_mm, 0].map(v => expect.closeTo(v, 9) as number),
        );
      }),
    );
  });

  it('flies the shorter way round, and arrives', () => {
    const from: Orbit = { target_mm: [0, 0, 0], azimuth: 3, elevation: 0, span_mm: 10 };
    const to: Orbit = { target_mm: [1, 2, 3], azimuth: -3, elevation: 1, span_mm: 40 };
    expect(Math.abs(between(from, to, 0.5).azimuth)).toBeCloseTo(Math.PI, 9);
    expect(between(from, to, 0.5).span_mm).toBeCloseTo(20, 9);
    expect(between(from, to, 1)).toEqual({ ...to, azimuth: expect.closeTo(-3, 9) as number });
  });

  it('fits a box: every corner is within the picture, and something comes near its border', () => {
    fc.assert(
      fc.property(
        fc.tuple(
          fc.integer({ min: 1, max: 90 }),
          fc.integer({ min: 1, max: 90 }),
          fc.integer({ min: 1, max: 90 }),
        ),
        anyOrbit,
        fc.constantFrom([320, 470], [780, 468], [358, 280]),
        (size, orbit, [width, height]) => {
          const perMm = Math.min(width, height) / fittingSpan(size, orbit, { width, height });
          const { right, up } = axesOf(orbit);
          let [x, y] = [0, 0];
          for (let k = 0; k < 8; k++) {
            const corner = size.map((v, axis) => ((k >> axis) & 1 ? v / 2 : -v / 2)) as unknown as Vec3;
            x = Math.max(x, (2 * perMm * Math.abs(dot(corner, right))) / width);
            y = Math.max(y, (2 * perMm * Math.abs(dot(corner, up))) / height);
          }
          expect(Math.max(x, y)).toBeLessThan(0.85);
          expect(Math.max(x, y)).toBeGreaterThan(0.75);
        },
      ),
    );
  });
});
