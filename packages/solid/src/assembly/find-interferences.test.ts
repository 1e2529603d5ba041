import { rigidMotion, transformMesh, type Mesh, type Vec3 } from '@kinprint/mesh';
import fc from 'fast-check';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { beforeAll, describe, expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { defaults } from '../defaults.ts';
import { loadKernel, type Kernel } from '../kernel.ts';
import { subtract, union, volumeOf } from '../solids.ts';
import { ballMesh, boxMesh, prismMesh, ringPoints } from '../testing/shapes.ts';
import { findInterferences } from './find-interferences.ts';
import type { Interference, PlacedSolid } from './types.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const at = (mesh: Mesh, shift: Vec3 = [0, 0, 0]): PlacedSolid => ({
  mesh,
  placement: rigidMotion(null, shift),
});

function only(...placed: readonly PlacedSolid[]): Interference {
  const { found, unusable } = findInterferences(kernel, placed);
  expect(unusable).toEqual([]);
  expect(found).toHaveLength(1);
  return found[0];
}

function near(actual: number, expected: number, relative = 2e-6): void {
  expect(Math.abs(actual - expected), `${actual} is not ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );
}

describe('closed forms', () => {
  it('two boxes: the box they share, its middle, its depth', () => {
    const found = only(at(boxMesh([0, 0, 0], [10, 10, 10])), at(boxMesh([0, 0, 0], [10, 6, 6]), [8, 2, 2]));
    near(found.volume_mm3, 2 * 6 * 6);
    near(found.depth_mm, 2);
    const [region] = found.regions;
    expect(region.depth_most_mm).toBeLessThanOrEqual(2 * (1 + defaults.depthShare) + 1e-9);
    [9, 5, 5].forEach((v, k) => expect(region.centroid_mm[k]).toBeCloseTo(v, 5));
    [8, 2, 2].forEach((v, k) => expect(region.bounds_mm.min[k]).toBeCloseTo(v, 2));
    [10, 8, 8].forEach((v, k) => expect(region.bounds_mm.max[k]).toBeCloseTo(v, 2));
  });

  it('a bar across a bar: every corner of what they share lies on both, and yet it is 1 mm deep', () => {
    const found = only(at(boxMesh([0, 0, 0], [100, 10, 2])), at(boxMesh([40, -50, 1], [50, 50, 3])));
    near(found.volume_mm3, 100);
    near(found.depth_mm, 1, 1e-6);
  });

  it('a cylinder in a slab: the area of its polygon times the depth', () => {
    // n/2 · r² · sin(2π/n), a regular polygon in a circle of radius r.
    const area = 24 * 9 * Math.sin(Math.PI / 24);
    const found = only(
      at(boxMesh([-20, -20, 0], [20, 20, 5])),
      at(prismMesh(ringPoints(48, 3), 0, 10), [1, 2, 3.5]),
    );
    near(found.volume_mm3, area * 1.5);
    near(found.depth_mm, 1.5);
  });

  it('the lens of two balls (MathWorld, Sphere-Sphere Intersection, eq. 16)', () => {
    const [R, r, d] = [10, 7, 15];
    const lens =
      (Math.PI * (R + r - d) ** 2 * (d ** 2 + 2 * d * r - 3 * r ** 2 + 2 * d * R + 6 * r * R - 3 * R ** 2)) /
      (12 * d);
    const found = only(at(ballMesh(R, 180, 360)), at(ballMesh(r, 180, 360), [d, 0, 0]));
    // Chords lie inside of their arcs: a little less, by about 2(πr/n)² of the lens's thickness.
    expect(found.volume_mm3).toBeLessThan(lens);
    near(found.volume_mm3, lens, 5e-3);
    near(found.depth_mm, R + r - d, 2e-3);
  });

  it('a pin that is thicker than its bore by 0.2 mm on the diameter: a ring 0.1 mm deep', () => {
    const plate = subtract(kernel, boxMesh([-20, -20, 0], [20, 20, 5]), prismMesh(ringPoints(48, 3), -1, 6));
    const ring = 24 * (3.1 ** 2 - 9) * Math.sin(Math.PI / 24) * 5;
    const found = only(at(plate), at(prismMesh(ringPoints(48, 3.1), -5, 10)));
    near(found.volume_mm3, ring, 1e-4);
    // Across the flats the gap is 0.1 · cos(π/48); a corner lies deepest at 0.1 · cos(π/48) from the flat beside it.
    expect(found.depth_mm).toBeGreaterThan(0.0995);
    expect(found.depth_mm).toBeLessThan(0.1001);
  });

  it('two places where the same two meet are two regions', () => {
    const comb = union(kernel, [
      boxMesh([0, 0, 0], [40, 10, 4]),
      boxMesh([2, 0, 3], [8, 10, 9]),
      boxMesh([30, 0, 3], [38, 10, 10]),
    ]);
    const found = only(at(comb), at(boxMesh([-5, -5, 8], [50, 20, 20])));
    expect(found.regions.map(region => Math.round(1e4 * region.volume_mm3) / 1e4)).toEqual([160, 60]);
    near(found.volume_mm3, 220);
  });

  it('one solid wholly inside another: all of it, as deep as it lies', () => {
    const found = only(at(boxMesh([0, 0, 0], [20, 20, 20])), at(boxMesh([9, 9, 9], [11, 11, 11])));
    near(found.volume_mm3, 8);
    near(found.depth_mm, 9, 0.011);
  });
});

describe('surfaces that coincide', () => {
  it('a part placed twice at one place, and a peg that fills its place', () => {
    const block = boxMesh([0, 0, 0], [10, 20, 8]);
    const twice = only(at(block), at(block));
    near(twice.volume_mm3, 1600);
    // The middle of the block lies 4 mm deep; chords are looked at from the middles of faces.
    expect(twice.depth_mm).toBeGreaterThan(3);
    expect(twice.depth_mm).toBeLessThanOrEqual(4);
    expect(twice.regions[0].depth_most_mm).toBeGreaterThanOrEqual(4);
    const peg = only(at(block), at(boxMesh([0, 0, 5], [10, 20, 12])));
    near(peg.volume_mm3, 600);
    near(peg.depth_mm, 3, 1e-6);
  });
});

describe('what does not count', () => {
  it('faces that touch, however the whole is turned', () => {
    const unit = fc.double({ min: -1, max: 1, noNaN: true });
    const motion = fc.record({
      axis: fc.tuple(unit, unit, unit).filter(v => Math.hypot(...v) > 0.1),
      degrees: fc.double({ min: -180, max: 180, noNaN: true }),
      shift: fc.tuple(
        fc.integer({ min: -300, max: 300 }),
        fc.integer({ min: -300, max: 300 }),
        fc.integer({ min: -300, max: 300 }),
      ),
    });
    const mesh = boxMesh([0, 0, 0], [30, 20, 10]);
    const seated = boxMesh([5, 5, 10], [12, 12, 16]);
    fc.assert(
      fc.property(motion, ({ axis, degrees, shift }) => {
        const placement = rigidMotion({ axis, degrees }, shift);
        const { found } = findInterferences(kernel, [
          { mesh, placement },
          { mesh: seated, placement },
        ]);
        expect(found).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  it('an overlap up to the depth, or the volume, that counts', () => {
    const block = boxMesh([0, 0, 0], [10, 10, 10]);
    const pressed = (depth: number) =>
      findInterferences(kernel, [at(block), at(block, [0, 0, 10 - depth])]).found;
    expect(pressed(defaults.contactDepth_mm - 0.001)).toEqual([]);
    expect(pressed(defaults.contactDepth_mm + 0.001)).toHaveLength(1);
    const grain = (side: number) =>
      findInterferences(kernel, [at(block), at(block, [10 - side, 10 - side, 10 - side])]).found;
    expect(grain(0.39)).toEqual([]);
    expect(grain(0.41)).toHaveLength(1);
  });

  it('solids that enclose nothing are named, and keep nothing else from being found', () => {
    const block = boxMesh([0, 0, 0], [10, 10, 10]);
    const open = { ...block, triangles: block.triangles.slice(3) };
    const { found, unusable } = findInterferences(kernel, [at(open), at(block), at(block, [5, 0, 0])]);
    expect(unusable).toEqual([0]);
    expect(found.map(({ a, b }) => [a, b])).toEqual([[1, 2]]);
  });
});

const shape = fc.oneof(
  fc.record({ r: fc.integer({ min: 4, max: 9 }) }).map(({ r }) => ballMesh(r, 8, 12)),
  fc
    .record({
      r: fc.integer({ min: 3, max: 8 }),
      h: fc.integer({ min: 4, max: 16 }),
      n: fc.integer({ min: 3, max: 20 }),
    })
    .map(({ r, h, n }) => prismMesh(ringPoints(n, r), -h / 2, h / 2)),
);
const number = fc.double({ min: -6, max: 6, noNaN: true });
const placement = fc
  .record({
    axis: fc.tuple(number, number, number),
    degrees: fc.integer({ min: -180, max: 180 }),
    shift: fc.tuple(number, number, number),
  })
  .filter(({ axis }) => Math.hypot(...axis) > 0.5)
  .map(({ axis, degrees, shift }) => ({ axis, degrees, shift }));

describe('laws', () => {
  it('inclusion and exclusion, symmetry, and that moving both moves what they share', () => {
    fc.assert(
      fc.property(shape, shape, placement, placement, (first, second, where, motion) => {
        const put = rigidMotion(where, where.shift);
        const pair = [at(first), { mesh: second, placement: put }];
        const { found } = findInterferences(kernel, pair, { depth_mm: 0, volume_mm3: 0 });
        const volume = found[0]?.volume_mm3 ?? 0;
        const placed = transformMesh(second, put);
        const expected =
          volumeOf(kernel, first) +
          volumeOf(kernel, placed) -
          volumeOf(kernel, union(kernel, [first, placed]));
        const size = volumeOf(kernel, first) + volumeOf(kernel, second);
        expect(Math.abs(volume - expected)).toBeLessThan(2e-5 * size);

        const swapped = findInterferences(kernel, [...pair].reverse(), { depth_mm: 0, volume_mm3: 0 }).found;
        expect(Math.abs((swapped[0]?.volume_mm3 ?? 0) - volume)).toBeLessThan(1e-5 * size);
        const carry = rigidMotion(motion, motion.shift);
        const moved = pair.map(({ mesh, placement: p }) => ({
          mesh: transformMesh(mesh, p),
          placement: carry,
        }));
        const after = findInterferences(kernel, moved, { depth_mm: 0, volume_mm3: 0 }).found;
        expect(Math.abs((after[0]?.volume_mm3 ?? 0) - volume)).toBeLessThan(1e-5 * size);
        if (volume > 1e-2 * size)
          expect(Math.abs(after[0].depth_mm - found[0].depth_mm)).toBeLessThan(0.03 * found[0].depth_mm);
      }),
      { numRuns: 60 },
    );
  });

  it('a random pair against rays through three-mesh-bvh', () => {
    const first = ballMesh(9, 24, 36);
    const second = transformMesh(
      subtract(kernel, prismMesh(ringPoints(24, 8), -9, 9), prismMesh(ringPoints(24, 3), -10, 10)),
      rigidMotion({ axis: [1, 0.4, -0.3], degrees: 37 }, [4, -3, 2]),
    );
    const { found } = findInterferences(kernel, [at(first), at(second)]);
    near(found[0].volume_mm3, sharedByRays(first, second, 0.05), 2e-3);
  });
});

/** The volume that two closed meshes share, from columns along z: what a ray is in of both. */
function sharedByRays(first: Mesh, second: Mesh, step: number): number {
  const intervalsOf = (mesh: Mesh) => {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3));
    geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
    const tree = new MeshBVH(geometry);
    return (x: number, y: number) => {
      const ray = new Ray(new Vector3(x, y, -100), new Vector3(0, 0, 1));
      const hits = tree.raycast(ray, DoubleSide).map(({ distance }) => distance);
      return hits.sort((p, q) => p - q);
    };
  };
  const [one, two] = [intervalsOf(first), intervalsOf(second)];
  let sum = 0;
  for (let x = -10 + step * 0.513; x < 10; x += step)
    for (let y = -10 + step * 0.487; y < 10; y += step) {
      const [p, q] = [one(x, y), two(x, y)];
      for (let i = 0; i + 1 < p.length; i += 2)
        for (let j = 0; j + 1 < q.length; j += 2)
          sum += Math.max(0, Math.min(p[i + 1], q[j + 1]) - Math.max(p[i], q[j]));
    }
  return sum * step * step;
}

it('hundreds of placed parts: boxes leave few pairs', () => {
  const brick = subtract(
    kernel,
    boxMesh([0, 0, 0], [9, 9, 9]),
    prismMesh(ringPoints(24, 2, [4.5, 4.5]), -1, 10),
  );
  const placed = Array.from({ length: 343 }, (_, i) =>
    at(brick, [10 * (i % 7), 10 * (Math.floor(i / 7) % 7), 10 * Math.floor(i / 49)]),
  );
  const crowded = [...placed, at(brick, [5, 0, 0])];
  const { found, pairs } = findInterferences(kernel, crowded);
  // Shifted by half a pitch the last one meets two neighbors, each over (9 − 5) × 9 × 9, less what bores share.
  expect(pairs).toBe(2);
  expect(found.map(({ a, b }) => [a, b])).toEqual([
    [0, 343],
    [1, 343],
  ]);
});
