import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshOf } from '../testing/builder.ts';
import { flipped, joined } from '../testing/motions.ts';
import { box } from '../testing/shapes.ts';
import type { Mesh } from '../types.ts';
import { columnGrid } from './column-grid.ts';

/** Turns of the surface around a point, or null on the surface. */
function winding(mesh: Mesh, x: number, y: number, z: number): number | null {
  const faces = [...Array(mesh.triangles.length / 3).keys()];
  let sum = 0;
  let touched = false;
  columnGrid(mesh, faces).above(
    x,
    y,
    z,
    (_, way) => (sum += way),
    () => (touched = true),
  );
  return touched ? null : sum;
}

/** |x| + |y| + |z| ≤ 4, with every corner, edge and axis on whole numbers. */
const octahedron = meshOf(
  [
    [4, 0, 0],
    [-4, 0, 0],
    [0, 4, 0],
    [0, -4, 0],
    [0, 0, 4],
    [0, 0, -4],
  ],
  [
    [0, 2, 4],
    [2, 1, 4],
    [1, 3, 4],
    [3, 0, 4],
    [2, 0, 5],
    [1, 2, 5],
    [3, 1, 5],
    [0, 3, 5],
  ],
);

describe('columnGrid', () => {
  it('counts every point of a lattice right, straight below corners and edges too', () => {
    const lattice = [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5];
    for (const x of lattice) {
      for (const y of lattice) {
        for (const z of lattice) {
          const reach = Math.abs(x) + Math.abs(y) + Math.abs(z);
          if (reach === 4) continue;
          expect(winding(octahedron, x, y, z), `${x} ${y} ${z}`).toBe(reach < 4 ? 1 : 0);
          expect(winding(flipped(octahedron), x, y, z) ?? NaN).toBe(reach < 4 ? -1 : 0);
        }
      }
    }
  });

  it('says when a point lies on a face', () => {
    expect(winding(octahedron, 1, 1, 2)).toBeNull();
    expect(winding(box(2, 2, 2), 1, 0.5, 2)).toBeNull();
  });

  it('agrees with the inside of a box anywhere', () => {
    const coordinate = fc.double({ min: -1, max: 4, noNaN: true });
    fc.assert(
      fc.property(coordinate, coordinate, coordinate, (x, y, z) => {
        const inside = x > 0 && x < 3 && y > 0 && y < 2 && z > 0 && z < 1;
        const border = [x % 3, y % 2, z % 1].includes(0);
        fc.pre(!border);
        expect(winding(box(3, 2, 1), x, y, z)).toBe(inside ? 1 : 0);
      }),
    );
  });

  it('files faces that lie over each other in few cells', () => {
    const layers = Array.from({ length: 500 }, (_, i) => box(10, 10, 1 + i));
    const mesh = joined(...layers);
    const faces = [...Array(mesh.triangles.length / 3).keys()];
    const grid = columnGrid(mesh, faces);
    // With one cell per face, each of the 2 000 flat faces would lie in some 3 000.
    expect(grid.cells).toBeLessThanOrEqual(32 * faces.length);
    let above = 0;
    grid.above(
      4.2,
      3.1,
      100.5,
      () => above++,
      () => expect.unreachable(),
    );
    expect(above).toBe(400);
    above = 0;
    grid.above(
      4.2,
      3.1,
      100.5,
      () => above++,
      () => expect.unreachable(),
      faces.slice(-24),
    );
    expect(above).toBe(2);
  });
});
