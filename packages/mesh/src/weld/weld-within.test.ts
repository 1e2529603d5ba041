import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../testing/motions.ts';
import { box, icosphere } from '../testing/shapes.ts';
import { faceAdjacency } from '../topology/face-adjacency.ts';
import type { Mesh } from '../types.ts';
import { weldWithin } from './weld-within.ts';

/** Every face with three vertices of its own, each shifted by up to ±`shift` along every axis. */
function exploded(mesh: Mesh, shift: number, random: () => number): Mesh {
  const positions = Float64Array.from(
    [...mesh.triangles].flatMap(v => [...mesh.positions.slice(3 * v, 3 * v + 3)]),
  );
  return {
    positions: positions.map(x => x + shift * (2 * random() - 1)),
    triangles: Uint32Array.from(mesh.triangles, (_, i) => i),
  };
}

const closed = (mesh: Mesh) => faceAdjacency(mesh).every(neighbor => neighbor >= 0);

describe('weldWithin', () => {
  it('closes a mesh torn into single faces, and moves nothing further than the tolerance (property)', () => {
    fc.assert(
      fc.property(fc.integer(), seed => {
        const random = randomFrom(seed);
        const sphere = icosphere(10, 1);
        const torn = exploded(sphere, 1e-3, random);
        const { mesh, merged, largestMove_mm } = weldWithin(torn, 0.01);
        expect(closed(mesh)).toBe(true);
        expect(mesh.positions.length).toBe(sphere.positions.length);
        expect(merged).toBe((torn.positions.length - mesh.positions.length) / 3);
        expect(largestMove_mm).toBeLessThanOrEqual(2e-3 * Math.sqrt(3));
        for (let c = 0; c < torn.triangles.length; c++) {
          const [was, is] = [3 * torn.triangles[c], 3 * mesh.triangles[c]];
          const move = Math.hypot(...[0, 1, 2].map(k => torn.positions[was + k] - mesh.positions[is + k]));
          expect(move).toBeLessThanOrEqual(largestMove_mm + 1e-15);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('leaves a closed mesh and one with wider gaps alone', () => {
    const whole = box(1, 2, 3);
    expect(weldWithin(whole, 100)).toEqual({ mesh: whole, merged: 0, largestMove_mm: 0 });
    const torn = exploded(whole, 0, () => 0);
    torn.positions.forEach((_, i) => (torn.positions[i] += Math.floor(i / 9)));
    expect(weldWithin(torn, 1e-3).merged).toBe(0);
  });

  it('never merges two corners of one face', () => {
    const sliver: Mesh = {
      positions: Float64Array.of(0, 0, 0, 1e-4, 0, 0, 0, 5, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(weldWithin(sliver, 1e-3).merged).toBe(0);
  });

  it('never chains: a row of points within reach of their neighbors does not collapse', () => {
    // Ten loose faces whose first corners stand 0.6 apart along x.
    const positions = new Float64Array(90);
    for (let f = 0; f < 10; f++) positions.set([0.6 * f, 0, 0, 100 * f, 50, 0, 100 * f, 0, 50], 9 * f);
    const result = weldWithin({ positions, triangles: Uint32Array.from({ length: 30 }, (_, i) => i) }, 1);
    expect(result.merged).toBe(5);
    expect(result.largestMove_mm).toBeCloseTo(0.6, 12);
  });

  it('does nothing at tolerance 0 or without a number', () => {
    const torn = exploded(box(1, 1, 1), 0, () => 0);
    for (const tolerance of [0, -1, NaN]) expect(weldWithin(torn, tolerance).merged).toBe(0);
  });
});
