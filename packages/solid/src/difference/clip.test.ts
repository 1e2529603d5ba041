import { massProperties } from '@kinprint/mesh';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { bodyOf, type Body } from '../body.ts';
import { loadKernel, type Kernel } from '../kernel.ts';
import { findShells } from '../shells.ts';
import { subtract, volumeOf } from '../solids.ts';
import { ballMesh, boxMesh, insideOut, mapped, prismMesh, ringPoints, together } from '../testing/shapes.ts';
import { clip } from './clip.ts';
import type { Cut } from './cut-planes.ts';
import { pieceOf, type Piece } from './piece.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

function piece(mesh: Parameters<typeof bodyOf>[0]): Piece {
  return pieceOf(bodyOf(mesh) as Body);
}

const closed = (part: Piece): boolean => findShells(part).closed;

describe('clip', () => {
  it('halves add up, stay closed and hold half a ball each', () => {
    const ball = ballMesh(3, 12, 20);
    for (const axis of [0, 1, 2] as const) {
      const parts = (['above', 'below'] as const).map(keep =>
        clip(kernel, piece(ball), { axis, at: 1e-3, keep }),
      );
      expect(parts.map(closed)).toEqual([true, true]);
      const [above, below] = parts.map(part => volumeOf(kernel, part));
      expect(above + below).toBeCloseTo(volumeOf(kernel, ball), 4);
      expect(Math.abs(above - below)).toBeLessThan(2 * Math.PI * 9 * 1.1e-3);
    }
  });

  it('keeps holes and cavities open in the cap', () => {
    const tube = subtract(kernel, prismMesh(ringPoints(16, 4), 0, 10), prismMesh(ringPoints(16, 2), -1, 11));
    const half = clip(kernel, piece(tube), { axis: 2, at: 4, keep: 'below' });
    expect(volumeOf(kernel, half)).toBeCloseTo(0.4 * volumeOf(kernel, tube), 4);
    const hollow = together(boxMesh([0, 0, 0], [4, 4, 4]), insideOut(boxMesh([1, 1, 1], [3, 3, 3])));
    expect(volumeOf(kernel, clip(kernel, piece(hollow), { axis: 0, at: 2, keep: 'above' }))).toBeCloseTo(
      28,
      5,
    );
  });

  it('a plane through vertices and faces leaves a closed piece', () => {
    const box = boxMesh([0, 0, 0], [2, 2, 2]);
    for (const at of [0, 1, 2]) {
      for (const keep of ['above', 'below'] as const) {
        const part = clip(kernel, piece(box), { axis: 1, at, keep });
        expect(closed(part)).toBe(true);
        expect(volumeOf(kernel, part)).toBeCloseTo(4 * (keep === 'above' ? 2 - at : at), 6);
      }
    }
  });

  it('caps overlapping shells one by one', () => {
    const cross = piece(together(boxMesh([-5, -1, -1], [5, 1, 1]), boxMesh([-1, -5, -1.5], [1, 5, 1.5])));
    const part = clip(kernel, cross, { axis: 2, at: 0.1, keep: 'above' });
    expect(volumeOf(kernel, part)).toBeCloseTo(0.9 * 20 + 1.4 * 20 - 0.9 * 4, 5);
    const { positions, triangles, groupOf } = part;
    for (const group of [0, 1]) {
      const own = triangles.filter((_, i) => groupOf?.[Math.floor(i / 3)] === group);
      expect(volumeOf(kernel, { positions, triangles: own })).toBeCloseTo(
        group === 0 ? 0.9 * 20 : 1.4 * 20,
        5,
      );
    }
  });

  it('equal edges are cut at equal points, whichever way the meshes number them', () => {
    const ball = ballMesh(3, 12, 20);
    const last = ball.positions.length / 3 - 1;
    const renumbered = {
      positions: Float64Array.from(
        ball.positions,
        (_, i) => ball.positions[3 * (last - Math.floor(i / 3)) + (i % 3)],
      ),
      triangles: ball.triangles.map(
        (_, i, all) => last - all[all.length - 3 - 3 * Math.floor(i / 3) + (i % 3)],
      ),
    };
    const cut: Cut = { axis: 0, at: 0.7123, keep: 'below' };
    const points = (part: Piece): string[] =>
      Array.from({ length: part.positions.length / 3 }, (_, v) =>
        part.positions.slice(3 * v, 3 * v + 3).join(),
      ).sort();
    expect(points(clip(kernel, piece(ball), cut))).toEqual(points(clip(kernel, piece(renumbered), cut)));
  });

  it('any run of cuts leaves a closed piece of the right volume', () => {
    const step = fc.record({
      axis: fc.constantFrom(0 as const, 1 as const, 2 as const),
      at: fc.double({ min: -6, max: 6, noNaN: true }),
      keep: fc.constantFrom('above' as const, 'below' as const),
    });
    const knot = mapped(ballMesh(5, 14, 22), ([x, y, z]) => [x * (1 + 0.4 * Math.sin(3 * z)), y, z]);
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), cuts => {
        let part = piece(knot);
        const tool = { min: [-9, -9, -9], max: [9, 9, 9] };
        for (const cut of cuts) {
          part = clip(kernel, part, cut);
          const side = cut.keep === 'above' ? tool.min : tool.max;
          side[cut.axis] =
            cut.keep === 'above' ? Math.max(side[cut.axis], cut.at) : Math.min(side[cut.axis], cut.at);
          expect(closed(part)).toBe(true);
        }
        if (!tool.min.every((low, k) => low < tool.max[k])) {
          expect(part.triangles.length === 0 || volumeOf(kernel, part) < 1e-6).toBe(true);
          return;
        }
        const [x0, y0, z0] = tool.min;
        const [x1, y1, z1] = tool.max;
        // Summed over the faces: read back into the kernel, a slit thinner than its epsilon closes wrongly.
        const rest = subtract(kernel, knot, boxMesh([x0, y0, z0], [x1, y1, z1]));
        const expected = massProperties(knot).volume - massProperties(rest).volume;
        const actual = massProperties(part).volume;
        expect(Math.abs(actual - expected)).toBeLessThan(1e-3);
      }),
      { numRuns: 60 },
    );
  });
});
