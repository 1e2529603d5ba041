import type { Mesh } from '@kinprint/mesh';
import { beforeAll, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { subtract, union, volumeOf } from '../solids.ts';
import { boxMesh, mapped, prismMesh, ringPoints } from '../testing/shapes.ts';
import { bothSurfaces } from './both-surfaces.ts';
import { withoutFilms } from './films.ts';
import { materialDifference } from './material-difference.ts';
import type { MaterialRegion } from './types.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

function regionOver(mesh: Mesh): MaterialRegion {
  const bounds_mm = { min: [0, 0, 1], max: [30, 10, 4] } as const;
  return { kind: 'added', volume_mm3: volumeOf(kernel, mesh), bounds_mm, centroid_mm: [0, 0, 0], mesh };
}

it('two bosses that a film hangs together are two regions, each with its own bounds', () => {
  const plate = boxMesh([0, 0, 0], [30, 10, 1]);
  const film = boxMesh([0, 0, 1], [30, 10, 1.00002]);
  const bosses = [boxMesh([2, 2, 1], [5, 6, 4]), boxMesh([20, 3, 1], [24, 7, 3])];
  const region = regionOver(union(kernel, [film, ...bosses]));
  const after = union(kernel, [plate, film, ...bosses]);
  const { regions, films_mm3 } = withoutFilms(kernel, region, bothSurfaces(plate, after, 1e-3), {
    left: 20_000,
  });
  expect(regions).toHaveLength(2);
  expect(films_mm3).toBeGreaterThan(300 * 0.00002 * 0.7);
  expect(films_mm3).toBeLessThan(300 * 0.00002);
  regions.forEach(({ bounds_mm, volume_mm3, centroid_mm, mesh }, i) => {
    const expected = [
      { min: [2, 2, 1], max: [5, 6, 4] },
      { min: [20, 3, 1], max: [24, 7, 3] },
    ][i];
    for (let k = 0; k < 3; k++) {
      expect(Math.abs(bounds_mm.min[k] - expected.min[k])).toBeLessThan(0.06);
      expect(Math.abs(bounds_mm.max[k] - expected.max[k])).toBeLessThan(0.06);
      expect(centroid_mm[k]).toBeCloseTo((expected.min[k] + expected.max[k]) / 2, 3);
    }
    expect(Math.abs(volume_mm3 / [36, 32][i] - 1)).toBeLessThan(1e-4);
    expect(volumeOf(kernel, mesh)).toBeCloseTo(volume_mm3, 4);
  });
});

it('a region without films stays as it is', () => {
  const plate = boxMesh([0, 0, 0], [30, 10, 1]);
  const boss = boxMesh([2, 2, 1], [5, 6, 4]);
  const region = regionOver(boss);
  const after = union(kernel, [plate, boss]);
  expect(withoutFilms(kernel, region, bothSurfaces(plate, after, 1e-3), { left: 20_000 })).toEqual({
    regions: [region],
    films_mm3: 0,
  });
});

it('where no more triangles may be bisected, nothing deep is lost', () => {
  const plate = boxMesh([0, 0, 0], [30, 10, 1]);
  const film = boxMesh([0, 0, 1], [30, 10, 1.00002]);
  const bosses = [boxMesh([2, 2, 1], [5, 6, 4]), boxMesh([20, 3, 1], [24, 7, 3])];
  const region = regionOver(union(kernel, [film, ...bosses]));
  const surfaces = bothSurfaces(plate, union(kernel, [plate, film, ...bosses]), 1e-3);
  const { regions, films_mm3 } = withoutFilms(kernel, region, surfaces, { left: 0 });
  const kept = regions.reduce((sum, { volume_mm3 }) => sum + volume_mm3, 0);
  expect(kept).toBeGreaterThan(68 * (1 - 1e-4));
  expect(kept + films_mm3).toBeCloseTo(region.volume_mm3, 6);
});

it('a reamed bore in a plate that stands askew, as single-precision files hold it, is where the bore is', () => {
  const plate = (diameter: number): Mesh => {
    const bore = prismMesh(ringPoints(32, diameter / 2, [8, 3]), -1, 6);
    const { positions, triangles } = mapped(
      subtract(kernel, boxMesh([-20, -15, 0], [20, 15, 5]), bore),
      // Turned by the 3-4-5 triangle about z, then about x.
      ([x, y, z]) => {
        const [p, q] = [0.6 * x - 0.8 * y, 0.8 * x + 0.6 * y];
        return [p + 50, 0.6 * q - 0.8 * z + 20, 0.8 * q + 0.6 * z + 10];
      },
    );
    return { positions: Float32Array.from(positions), triangles };
  };
  const { regions, removed_mm3, added_mm3 } = materialDifference(kernel, plate(3), plate(3.2), {
    tolerance_mm: 1e-3,
  });
  expect(added_mm3).toBe(0);
  // (n/8) sin(2π/n)(d2² − d1²) L for n = 32
  expect(Math.abs((removed_mm3 ?? NaN) / 4.838239986 - 1)).toBeLessThan(2e-4);
  expect(regions).toHaveLength(1);
  const { min, max } = regions[0].bounds_mm;
  // A cylinder of radius 1.6 and length 5 about (50 + 2.4, …) reaches at most 1.6 + 2.5 from its middle.
  const middle = [
    50 + 0.6 * 8 - 0.8 * 3,
    0.6 * (0.8 * 8 + 0.6 * 3) - 0.8 * 2.5 + 20,
    0.8 * (0.8 * 8 + 0.6 * 3) + 0.6 * 2.5 + 10,
  ];
  middle.forEach((x, k) => {
    expect((min[k] + max[k]) / 2).toBeCloseTo(x, 1);
    expect(max[k] - min[k]).toBeLessThan(2 * (1.6 + 2.5) * 1.02);
  });
});
