import { describe, expect, it } from 'vitest';
import { buildTree, type Mesh } from '@kinprint/mesh';
import { farthest } from './farthest.ts';

const square = (size: number, z: number): Mesh => ({
  positions: new Float64Array([0, 0, z, size, 0, z, size, size, z, 0, size, z]),
  triangles: new Uint32Array([0, 1, 2, 0, 2, 3]),
});

/** The four walls of a slot of the given width, 5 deep, open at the top: only its rim touches the lid. */
function slot(width: number): Mesh {
  const positions = new Float64Array([
    0,
    0,
    0,
    width,
    0,
    0,
    0,
    40,
    0,
    width,
    40,
    0,
    0,
    0,
    -5,
    width,
    0,
    -5,
    0,
    40,
    -5,
    width,
    40,
    -5,
  ]);
  const triangles = new Uint32Array([0, 2, 4, 2, 6, 4, 1, 5, 3, 3, 5, 7, 4, 6, 5, 5, 6, 7]);
  return { positions, triangles };
}

describe('farthest', () => {
  it('is the gap of parallel planes', () => {
    expect(farthest(square(10, 3), buildTree(square(10, 0)))).toBeCloseTo(3, 12);
  });

  it('sees the middle of a lid whose corners all lie on the walls: half the width, within 1 %', () => {
    const lid: Mesh = {
      positions: new Float64Array([0, 0, 0, 4, 0, 0, 4, 40, 0, 0, 40, 0]),
      triangles: new Uint32Array([0, 1, 2, 0, 2, 3]),
    };
    const depth = farthest(lid, buildTree(slot(4)));
    expect(depth).toBeLessThanOrEqual(2 + 1e-12);
    expect(depth).toBeGreaterThan(2 / 1.011);
  });

  it('with no work to spare is what corners and middles reach: never more than the true distance', () => {
    // The corners touch, the middles of the two facets lie 4/3 from the nearer wall.
    const lid: Mesh = {
      positions: new Float64Array([0, 0, 0, 4, 0, 0, 4, 40, 0, 0, 40, 0]),
      triangles: new Uint32Array([0, 1, 2, 0, 2, 3]),
    };
    expect(farthest(lid, buildTree(slot(4)), 0)).toBeCloseTo(4 / 3, 12);
  });
});
