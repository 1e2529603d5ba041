import { area, bounds, buildTree, type Mesh } from '@kinprint/mesh';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ball, box } from '../pictures/testing/shapes.ts';
import { surfaceOf } from '../pictures/surface.ts';
import { coincidentFaces } from './coincident.ts';
import { deviationsAt } from './deviation-at.ts';
import { sharpEdges, soupOf } from './geometry.ts';
import { edgeFor, longestEdge, refined, type Soup } from './refine.ts';

const origin = [0, 0, 0] as const;
const pause = (): Promise<void> => Promise.resolve();
const soup = (mesh: Mesh): Soup => soupOf(surfaceOf(mesh), origin);
const meshOf = ({ positions }: Soup): Mesh => ({
  positions,
  triangles: Uint32Array.from({ length: positions.length / 3 }, (_, k) => k),
});

describe('a refined surface', () => {
  it('has the same area and bounds, no edge longer than asked, and about as many faces as were wished for', () => {
    fc.assert(
      fc.property(
        fc.tuple(...([2, 40, 25] as const).map(most => fc.double({ min: 1, max: most, noNaN: true }))),
        fc.integer({ min: 500, max: 4000 }),
        (size, wished) => {
          const mesh = box(origin, size as [number, number, number]);
          const edge = edgeFor(area(mesh), wished);
          const fine = refined(soup(mesh), edge, 1e6);
          expect(longestEdge(fine)).toBeLessThanOrEqual(edge * (1 + 1e-6));
          expect(area(meshOf(fine))).toBeCloseTo(area(mesh), 2);
          expect(bounds(meshOf(fine))).toEqual(bounds(meshOf(soup(mesh))));
          expect(fine.positions.length / 9).toBeGreaterThan(wished / 4);
          expect(fine.positions.length / 9).toBeLessThan(4 * wished);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('keeps within its bound', () => {
    expect(refined(soup(box(origin, [10, 10, 10])), 0.01, 300).positions.length / 9).toBeLessThanOrEqual(300);
  });
});

describe('deviations', () => {
  it('of a ball from a smaller one about the same middle are the difference of the radii, outward', async () => {
    const { values_mm, most_mm } = await deviationsAt(
      soup(ball(12, 48)),
      origin,
      buildTree(ball(11.5, 48)),
      1e-3,
      pause,
    );
    // Corners of the facets lie on both balls along the same rays; the inner facets are nearer to them by their sagitta.
    for (const value of values_mm) expect(value).toBeGreaterThanOrEqual(0.5 - 1e-5);
    expect(most_mm).toBeLessThan(0.5 + 11.5 * (1 - Math.cos(Math.PI / 24)));
  });

  it('are negative where material went, 0 where the surfaces coincide, and known between the corners', async () => {
    // A block whose top was lowered from 8 to 6.
    const fine = refined(soup(box(origin, [20, 20, 6])), 1, 1e5);
    const { values_mm, most_mm } = await deviationsAt(
      fine,
      origin,
      buildTree(box(origin, [20, 20, 8])),
      1e-3,
      pause,
    );
    expect(most_mm).toBeCloseTo(2, 6);
    for (let k = 0; k < values_mm.length; k++) {
      const [x, y, z] = fine.positions.subarray(3 * k, 3 * k + 3);
      // Within the old block: to the nearest of its faces.
      const inside = Math.min(x, 20 - x, y, 20 - y, z, 8 - z);
      expect(values_mm[k]).toBeCloseTo(inside <= 1e-3 ? 0 : -inside, 5);
    }
  });
});

describe('faces that lie on another surface', () => {
  it('are those of a piece that it shares with the part', () => {
    const piece = box([2, 2, 8], [6, 6, 10]);
    const before = buildTree(box(origin, [20, 20, 8]));
    const lies = coincidentFaces(piece, before, 1e-3);
    // The two faces at the foot, of twelve.
    expect([...lies].reduce((sum, one) => sum + one, 0)).toBe(2);
    const p = piece.positions;
    lies.forEach((one, f) => {
      const foot = [0, 1, 2].every(c => p[3 * piece.triangles[3 * f + c] + 2] === 8);
      expect(one === 1).toBe(foot);
    });
  });
});

describe('sharp edges', () => {
  it('of a box are its twelve', () => {
    expect(sharpEdges(surfaceOf(box(origin, [3, 4, 5])), origin).length / 6).toBe(12);
  });
});
