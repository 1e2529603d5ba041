import { InputError } from '@kinprint/mesh';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadKernel, type Kernel } from './kernel.ts';
import { intersection, intersectionVolume, subtract, union, volumeOf } from './solids.ts';
import { ballMesh, boxMesh, insideOut, mapped, prismMesh, ringPoints, together } from './testing/shapes.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** Relative error that single-precision crossing may cost. */
const single = 1e-6;
function near(actual: number, expected: number, relative = single): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

describe('closed forms', () => {
  it('shifted boxes: (a−dx)(b−dy)(c−dz)', () => {
    const a = boxMesh([0, 0, 0], [20, 30, 50]);
    const b = boxMesh([1, 2, 3], [21, 32, 53]);
    near(intersectionVolume(kernel, a, b), 25_004);
    near(volumeOf(kernel, union(kernel, [a, b])), 30_000 + 4_996);
    near(volumeOf(kernel, subtract(kernel, a, b)), 4_996);
  });

  it('a unit square prism and its copy turned by 45°: the octagon 2(√2 − 1)', () => {
    const a = prismMesh(ringPoints(4, Math.SQRT1_2), 0, 1);
    const b = prismMesh(ringPoints(4, Math.SQRT1_2, [0, 0], Math.PI / 4), 0, 1);
    near(intersectionVolume(kernel, a, b), 0.8284271247462);
  });

  it('lens of two balls of radius 10, centers 1 apart, from below and within the chord error', () => {
    // π(4R + d)(2R − d)²/12, sum of two caps; the ball's own volume lacks 0.17 % at this tessellation.
    const a = ballMesh(10, 48, 96);
    const b = ballMesh(10, 48, 96, [1, 0, 0]);
    const lens = intersectionVolume(kernel, a, b);
    expect(lens).toBeLessThan(3874.892738815);
    near(lens, 3874.892738815, 4e-3);
  });

  it('Steinmetz solids of two and three cylinders: 16r³/3 and (16 − 8√2)r³', () => {
    const z = prismMesh(ringPoints(128, 3), -5, 5);
    const x = mapped(z, ([px, py, pz]) => [pz, px, py]);
    const y = mapped(z, ([px, py, pz]) => [py, pz, px]);
    const two = intersection(kernel, x, z);
    near(volumeOf(kernel, two), 144, 1e-3);
    near(intersectionVolume(kernel, two, y), 126.5298705274, 1e-3);
  });
});

describe('awkward solids', () => {
  it('keeps its digits 1000 mm from the origin, and at 0.01 mm and several meters', () => {
    for (const size of [0.01, 1, 10_000]) {
      const far = [1000, -1000, 1000] as const;
      const offset = size === 1 ? far : ([0, 0, 0] as const);
      const a = boxMesh(offset, [offset[0] + size, offset[1] + size, offset[2] + size]);
      near(volumeOf(kernel, a), size ** 3);
      const b = mapped(a, ([x, y, z]) => [x + size / 4, y, z]);
      near(intersectionVolume(kernel, a, b), 0.75 * size ** 3);
    }
  });

  it('counts overlapping and nested shells once, and touching ones in full', () => {
    const a = boxMesh([0, 0, 0], [2, 2, 2]);
    near(volumeOf(kernel, together(a, boxMesh([1, 1, 1], [3, 3, 3]))), 15);
    near(volumeOf(kernel, together(a, boxMesh([0.5, 0.5, 0.5], [1, 1, 1]))), 8);
    near(volumeOf(kernel, together(a, boxMesh([2, 0, 0], [3, 2, 2]))), 12);
  });

  it('keeps cavities, and bodies loose inside them', () => {
    const hollow = together(boxMesh([0, 0, 0], [4, 4, 4]), insideOut(boxMesh([1, 1, 1], [3, 3, 3])));
    near(volumeOf(kernel, hollow), 56);
    near(volumeOf(kernel, together(hollow, boxMesh([1.5, 1.5, 1.5], [2, 2, 2]))), 56.125);
  });

  it('turns what is inside out, as a whole or in a shell of its own', () => {
    const a = boxMesh([0, 0, 0], [2, 2, 2]);
    near(volumeOf(kernel, insideOut(a)), 8);
    near(volumeOf(kernel, together(a, insideOut(boxMesh([3, 0, 0], [4, 1, 1])))), 9);
    near(volumeOf(kernel, insideOut(together(a, insideOut(boxMesh([0.5, 0.5, 0.5], [1, 1, 1]))))), 7.875);
  });

  it('an inverted shell in the hollow of a ring is no cavity of the ring', () => {
    const ring = subtract(kernel, prismMesh(ringPoints(24, 10), 0, 5), prismMesh(ringPoints(24, 8), -1, 6));
    const peg = boxMesh([-1, -1, 1], [1, 1, 4]);
    near(volumeOf(kernel, together(ring, insideOut(peg))), volumeOf(kernel, ring) + 12);
  });

  it('accepts soup whose corners repeat, and refuses an open surface with a remedy', () => {
    const box = boxMesh([0, 0, 0], [1, 1, 1]);
    const positions = Float64Array.from(
      [...box.triangles].flatMap(v => [...box.positions.subarray(3 * v, 3 * v + 3)]),
    );
    near(volumeOf(kernel, { positions, triangles: Uint32Array.from({ length: 36 }, (_, i) => i) }), 1);
    const open = { positions: box.positions, triangles: box.triangles.slice(3) };
    expect(() => volumeOf(kernel, open)).toThrow(InputError);
    expect(() => volumeOf(kernel, open)).toThrow(/does not enclose a volume/);
  });
});
