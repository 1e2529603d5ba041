import { describe, expect, it } from 'vitest';
import { concatenate } from './concatenate.ts';
import { type Affine, linearDeterminant, transformMesh } from './transform-mesh.ts';

const corner = {
  positions: new Float32Array([0, 0, 0, 1, 0, 0, 0, 1, 0]),
  triangles: new Uint32Array([0, 1, 2]),
};

describe('transformMesh', () => {
  it('turns a quarter about z and shifts', () => {
    const quarter: Affine = [
      [0, -1, 0, 10],
      [1, 0, 0, 20],
      [0, 0, 1, 30],
      [0, 0, 0, 1],
    ];
    expect([...transformMesh(corner, quarter).positions]).toEqual([10, 20, 30, 10, 21, 30, 9, 20, 30]);
    expect([...transformMesh(corner, quarter).triangles]).toEqual([0, 1, 2]);
  });

  it('reverses the faces under a reflection', () => {
    const flip: Affine = [
      [-1, 0, 0, 0],
      [0, 1, 0, 0],
      [0, 0, 1, 0],
      [0, 0, 0, 1],
    ];
    expect(linearDeterminant(flip)).toBe(-1);
    expect([...transformMesh(corner, flip).triangles]).toEqual([0, 2, 1]);
  });
});

describe('concatenate', () => {
  it('keeps both meshes, numbered on', () => {
    const both = concatenate([corner, corner]);
    expect(both.positions).toHaveLength(18);
    expect([...both.triangles]).toEqual([0, 1, 2, 3, 4, 5]);
  });
});
