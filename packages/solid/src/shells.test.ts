import { describe, expect, it } from 'vitest';
import { findShells } from './shells.ts';
import { boxMesh, together } from './testing/shapes.ts';

describe('findShells', () => {
  it('counts pieces and tells open from closed', () => {
    const box = boxMesh([0, 0, 0], [1, 1, 1]);
    expect(findShells(box)).toMatchObject({ closed: true, count: 1 });
    expect(findShells(together(box, box))).toMatchObject({ closed: true, count: 2 });
    expect(findShells({ positions: box.positions, triangles: box.triangles.slice(3) }).closed).toBe(false);
    expect(findShells({ positions: new Float64Array(0), triangles: new Uint32Array(0) })).toMatchObject({
      closed: true,
      count: 0,
    });
  });

  it('a face turned the wrong way opens the cycle', () => {
    const box = boxMesh([0, 0, 0], [1, 1, 1]);
    const triangles = box.triangles.slice();
    triangles.set([triangles[1], triangles[0]], 0);
    expect(findShells({ positions: box.positions, triangles }).closed).toBe(false);
  });

  it('keeps two cubes apart that share an edge or a corner', () => {
    // Vertices 1 and 5 of the first (the edge x = 1, y = 0) are vertices 3 and 7 of a cube beyond it.
    const first = boxMesh([0, 0, 0], [1, 1, 1]);
    const second = boxMesh([1, -1, 0], [2, 0, 1]);
    const both = together(first, second);
    for (const shared of [
      [8 + 3, 1],
      [8 + 3, 1, 8 + 7, 5],
    ]) {
      const triangles = both.triangles.slice();
      for (let i = 0; i < shared.length; i += 2) {
        triangles.forEach((v, k) => (triangles[k] = v === shared[i] ? shared[i + 1] : v));
      }
      const { closed, count, shellOf } = findShells({ positions: both.positions, triangles });
      expect({ closed, count }).toEqual({ closed: true, count: 2 });
      expect([...shellOf]).toEqual(Array.from({ length: 24 }, (_, f) => (f < 12 ? 0 : 1)));
    }
  });
});
