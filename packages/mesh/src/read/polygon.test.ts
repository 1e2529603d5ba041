import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { triangulatePolygon } from './polygon.ts';

/** Area of a plane polygon in space along its own normal (half the sum of cross products). */
function areaVector(points: number[][]): number[] {
  const sum = [0, 0, 0];
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length];
    for (let k = 0; k < 3; k++)
      sum[k] += (a[(k + 1) % 3] * b[(k + 2) % 3] - a[(k + 2) % 3] * b[(k + 1) % 3]) / 2;
  });
  return sum;
}

function cut(points: number[][]): { triangles: number[][][]; forced: boolean } {
  const { corners, forced } = triangulatePolygon(Float64Array.from(points.flat()), points.length);
  expect(corners.length).toBe(3 * (points.length - 2));
  const triangles: number[][][] = [];
  for (let i = 0; i < corners.length; i += 3) triangles.push(corners.slice(i, i + 3).map(c => points[c]));
  return { triangles, forced };
}

/** Same area in sum and in sum of absolutes: nothing overlaps and nothing sticks out. */
function expectExact(points: number[][]): void {
  const whole = Math.hypot(...areaVector(points));
  const { triangles, forced } = cut(points);
  expect(forced).toBe(false);
  const parts = triangles.map(t => areaVector(t));
  expect(parts.reduce((sum, part) => sum + Math.hypot(...part), 0)).toBeCloseTo(whole, 9);
  for (const part of parts) {
    const along = part.reduce((sum, x, k) => sum + x * areaVector(points)[k], 0);
    expect(along).toBeGreaterThanOrEqual(0);
  }
}

describe('triangulatePolygon', () => {
  it('cuts star-shaped polygons exactly, in any plane (property)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 5, noNaN: true }), { minLength: 4, maxLength: 40 }),
        fc.constantFrom(0, 1, 2),
        fc.boolean(),
        (radii, axis, reversed) => {
          const points = radii.map((r, i) => {
            const angle = (2 * Math.PI * i) / radii.length;
            const flat = [r * Math.cos(angle), r * Math.sin(angle), 7];
            return [flat[axis], flat[(axis + 1) % 3], flat[(axis + 2) % 3]];
          });
          expectExact(reversed ? points.reverse() : points);
        },
      ),
    );
  });

  it('cuts an L, a comb and a quadrilateral with one corner pushed in', () => {
    expectExact(
      [
        [0, 0],
        [4, 0],
        [4, 1],
        [1, 1],
        [1, 3],
        [0, 3],
      ].map(([x, y]) => [x, y, 0]),
    );
    const comb = Array.from({ length: 9 }, (_, i) => [
      [2 * i, 5],
      [2 * i + 1, 1],
    ]).flat();
    expectExact([[-1, 0], ...comb, [17, 0]].map(([x, y]) => [x, y, 2]).reverse());
    expectExact([
      [0, 0, 0],
      [4, 0, 0],
      [1, 1, 0],
      [0, 4, 0],
    ]);
    expectExact([
      [1, 1, 0],
      [0, 4, 0],
      [0, 0, 0],
      [4, 0, 0],
    ]);
  });

  it('keeps corners on a straight edge as corners of triangles', () => {
    const { triangles } = cut([
      [0, 0, 0],
      [1, 0, 0],
      [2, 0, 0],
      [2, 2, 0],
      [0, 2, 0],
    ]);
    const used = new Set(triangles.flat().map(String));
    expect(used.size).toBe(5);
    expect(triangles.every(t => Math.hypot(...areaVector(t)) > 0)).toBe(true);
  });

  it('cuts a ring joined by a double edge (keyhole)', () => {
    const outer = [
      [0, 0],
      [6, 0],
      [6, 6],
      [0, 6],
    ];
    const inner = [
      [2, 2],
      [2, 4],
      [4, 4],
      [4, 2],
    ];
    expectExact([...outer, outer[0], ...inner, inner[0]].map(([x, y]) => [x, y, 1]));
  });

  it('says when an outline crosses itself, and ends on outlines without area', () => {
    expect(
      cut([
        [0, 0, 0],
        [4, 4, 0],
        [4, 0, 0],
        [0, 4, 0],
        [-3, 2, 0],
      ]).triangles.length,
    ).toBe(3);
    expect(cut(Array.from({ length: 12 }, () => [1, 1, 1])).triangles.length).toBe(10);
    expect(
      cut([
        [0, 0, 0],
        [4, 4, 0],
        [4, 0, 0],
        [0, 4, 0],
      ]).forced,
    ).toBe(true);
  });
});
