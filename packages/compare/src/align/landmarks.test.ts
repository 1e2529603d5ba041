import { loadKernel } from '@kinprint/solid';
import { expect, it } from 'vitest';
import { findFacets } from './facets.ts';
import { findLandmarks } from './landmarks.ts';
import { scaleHypotheses, wholeScale } from './scale-hypotheses.ts';
import { describeSurface, type Surface } from './surface.ts';
import { ball, box, exported, plate, type PlateDesign } from './testing/parts.ts';
import type { Mesh } from '@kinprint/mesh';

function surfaceOf(mesh: Mesh): Surface {
  const surface = describeSurface(mesh);
  if (surface === null) throw new Error('a mesh without faces');
  return surface;
}

it('a box has six flat patches, six outlines and eight corners', () => {
  const surface = surfaceOf(exported(box(10, 20, 30), { turn: [0.3, 0.5, -1], shift: [7, 8, 9] }));
  expect(findFacets(surface).list.map(f => f.area)).toEqual(
    [600, 600, 300, 300, 200, 200].map(a => expect.closeTo(a, 3) as number),
  );
  const { loops, corners } = findLandmarks(surface);
  expect(loops).toHaveLength(6);
  expect(loops.every(l => !l.hole)).toBe(true);
  expect(corners).toHaveLength(8);
});

it('the outline of a bore has its center and area, however many sides and wherever it stands', async () => {
  const kernel = await loadKernel();
  const design: PlateDesign = { size: [60, 30, 4], bores: [[10, 8, 1.6]], bosses: [], cuts: [], sides: 17 };
  const holes = findLandmarks(surfaceOf(plate(kernel, design))).loops.filter(l => l.hole);
  expect(holes).toHaveLength(2);
  // Closed form: a regular 17-gon of radius 1.6 has the area 17/2 · r² · sin(2π/17).
  const area = (17 / 2) * 1.6 ** 2 * Math.sin((2 * Math.PI) / 17);
  for (const hole of holes) {
    expect(hole.at[0]).toBeCloseTo(10, 5);
    expect(hole.at[1]).toBeCloseTo(8, 5);
    expect(hole.size ** 2).toBeCloseTo(area, 5);
    expect(Math.abs(hole.normal[2])).toBeCloseTo(1, 6);
  }
});

it('a pebble has no corners, and its chance patches cover next to nothing', () => {
  const surface = surfaceOf(ball({ rings: 60, bumps: true }));
  expect(findLandmarks(surface).corners).toHaveLength(0);
  const flat = findFacets(surface).list.reduce((sum, facet) => sum + facet.area, 0);
  expect(flat / surface.area).toBeLessThan(0.05);
});

it('the factor is among the hypotheses, for like triangles and for another tessellation with a rework', async () => {
  const kernel = await loadKernel();
  const design: PlateDesign = {
    size: [60, 30, 4],
    bores: [[10, 8, 1.6]],
    bosses: [[30, 20, 4, 6]],
    cuts: [],
    sides: 32,
  };
  const before = surfaceOf(plate(kernel, design));
  const grown = surfaceOf(exported(plate(kernel, design), { scale: 1.17 }));
  const reworked = plate(kernel, { ...design, sides: 44, bosses: [[30, 20, 3.5, 9]] });
  const both = surfaceOf(exported(reworked, { scale: 1.17, turn: [1, 0.2, 0], shift: [3, 3, 3] }));
  for (const [after, within] of [
    [grown, 1e-5],
    [both, 5e-3],
  ] as const) {
    // prettier-ignore
    const found = scaleHypotheses(before, after, findLandmarks(before), findLandmarks(after));
    expect(Math.min(...found.map(s => Math.abs(s / 1.17 - 1)))).toBeLessThan(within);
    expect(found.every(s => s > 0 && Math.abs(s - 1) > 1e-4)).toBe(true);
  }
  expect(wholeScale(before, grown)[0]).toBeCloseTo(1.17, 5);
  expect(wholeScale(before, before)).toEqual([]);
});

it('area, volume, centroid and spread of a box are the closed forms', () => {
  const s = surfaceOf(exported(box(2, 4, 6), { shift: [100, 0, 0] }));
  expect(s.area).toBeCloseTo(88, 4);
  expect(s.volume).toBeCloseTo(48, 3);
  expect(s.centroid[0]).toBeCloseTo(101, 4);
  // Σ over faces of ∫(x − 101)²: two faces of 24 at distance 1, four with 2³/12 per unit of the other edge.
  expect(s.spread[0]).toBeCloseTo((2 * 24 + (2 ** 3 / 12) * 2 * (4 + 6)) / 88, 4);
});
