import { beforeAll, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { union } from '../solids.ts';
import { boxMesh } from '../testing/shapes.ts';
import { bothSurfaces } from './both-surfaces.ts';
import { firstLook } from './first-look.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const plate = boxMesh([0, 0, 0], [30, 10, 1]);
const film = boxMesh([0, 0, 1], [30, 10, 1.00002]);
const boss = boxMesh([2, 2, 1], [5, 6, 4]);

it('a boss is deep and has no shallow surface', () => {
  const surfaces = bothSurfaces(plate, union(kernel, [plate, boss]), 1e-3);
  expect(firstLook(boss, surfaces)).toEqual({ deep: true, shallow_mm2: 0 });
});

it('a film is shallow on both sides', () => {
  const surfaces = bothSurfaces(plate, union(kernel, [plate, film]), 1e-3);
  const { deep, shallow_mm2 } = firstLook(film, surfaces);
  expect(deep).toBe(false);
  expect(shallow_mm2).toBeCloseTo(2 * 300, 1);
});

it('a boss on a film is deep, and has shallow surface', () => {
  const both = union(kernel, [film, boss]);
  const { deep, shallow_mm2 } = firstLook(both, bothSurfaces(plate, union(kernel, [plate, both]), 1e-3));
  expect(deep).toBe(true);
  expect(shallow_mm2).toBeGreaterThan(200);
  expect(shallow_mm2).toBeLessThan(2 * 300);
});
