import type { Mesh, Vec3 } from '@kinprint/mesh';
import { beforeAll, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { subtract } from '../solids.ts';
import { boxMesh, mapped, prismMesh, ringPoints } from '../testing/shapes.ts';
import { materialDifference } from './material-difference.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const thickness = 0.8;
const sides = 64;
const middle: Vec3 = [8, 8, thickness / 2];

/** 80 × 50 × 0.8, with a second bore and a slot. A diameter of 0: without the first bore. */
function plate(diameter: number): Mesh {
  const prism = (points: [number, number][]): Mesh => prismMesh(points, -1, 4);
  const cuts = [prism(ringPoints(sides, 2, [72, 42])), boxMesh([30, 20, -1], [50, 23, 4])];
  if (diameter > 0) cuts.push(prism(ringPoints(sides, diameter / 2, [middle[0], middle[1]])));
  const whole = boxMesh([0, 0, 0], [80, 50, thickness]);
  return rounded(cuts.reduce((left, cut) => subtract(kernel, left, cut), whole));
}

/** As a single-precision file holds it. */
function rounded({ positions, triangles }: Mesh): Mesh {
  return { positions: Float32Array.from(positions), triangles };
}

const turn = ([x, y, z]: Vec3): Vec3 => {
  const [c, s] = [Math.cos((37 * Math.PI) / 180), Math.sin((37 * Math.PI) / 180)];
  return [c * x - s * y, s * x + c * y, z];
};

/** The same as an alignment finds it: its matrix is not quite exact. */
const carry = (point: Vec3): Vec3 => {
  const [x, y, z] = turn(point);
  return [x, y, z - 7e-17 * x + 1e-16 * y];
};

const ring = (wide: number, narrow: number): number =>
  (sides / 8) * Math.sin((2 * Math.PI) / sides) * (wide ** 2 - narrow ** 2) * thickness;

// The films over 80 × 50 mm outweigh the ring by far in area: its mean thickness with them is below the tolerance.
it.each([3.1, 3, 2.8, 0])(
  'a bore 3.2 → %f in a thin plate that was turned: the ring, (n/8) sin(2π/n) (d1² − d2²) t, either way',
  narrow => {
    const wide = plate(3.2);
    const filled = plate(narrow);
    const options = { tolerance_mm: 1e-3 };
    // One side was turned and then rounded by its file, the other is carried onto it.
    const forth = materialDifference(kernel, mapped(wide, carry), rounded(mapped(filled, turn)), options);
    const back = materialDifference(kernel, mapped(filled, carry), rounded(mapped(wide, turn)), options);
    expect(forth.removed_mm3).toBe(0);
    expect(back.added_mm3).toBe(0);
    const expected = ring(3.2, narrow);
    for (const [volume, { regions }] of [
      [forth.added_mm3, forth],
      [back.removed_mm3, back],
    ] as const) {
      expect(Math.abs((volume ?? NaN) / expected - 1)).toBeLessThan(2e-3);
      expect(regions).toHaveLength(1);
      const { centroid_mm, bounds_mm } = regions[0];
      turn(middle).forEach((at, k) => {
        expect(centroid_mm[k]).toBeCloseTo(at, 2);
        expect(bounds_mm.max[k] - bounds_mm.min[k]).toBeLessThan(k === 2 ? 0.81 : 3.27);
      });
    }
  },
);
