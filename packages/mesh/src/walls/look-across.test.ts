import { describe, expect, it } from 'vitest';
import { icosphere } from '../testing/shapes.ts';
import { buildTree } from '../tree/build.ts';
import type { Mesh } from '../types.ts';
import { thinnestWalls } from './thinnest-walls.ts';

const codes = (mesh: Mesh) => thinnestWalls(mesh, buildTree(mesh)).notes.map(note => note.code);

describe('lookAcross', () => {
  it('stops where every line meets every face, and it is told', () => {
    const triangles = Uint32Array.from({ length: 3 * 20_000 }, (_, i) => i % 3);
    const same: Mesh = { positions: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0), triangles };
    expect(codes(same)).toEqual(['no-walls', 'walls-not-all-compared']);
  });

  it('does not stop on a sound round part of as many faces', () => {
    expect(codes(icosphere(10, 5))).toEqual([]);
  });
});
