import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mesh } from '@kinprint/mesh';
import { sameTriangles } from './same-triangles.ts';

/** A strip of triangles over distinct points, wide enough to shuffle. */
const strip: Mesh = {
  positions: Float32Array.from({ length: 30 }, (_, k) => Math.sin(k * 12.9898) * 10),
  triangles: Uint32Array.from({ length: 8 }, (_, k) => k).reduce((out, k) => {
    out.set([k, k + 1, k + 2], 3 * k);
    return out;
  }, new Uint32Array(24)),
};

function shuffled(
  mesh: Mesh,
  vertexKeys: readonly number[],
  faceKeys: readonly number[],
  turns: readonly number[],
): Mesh {
  const n = mesh.positions.length / 3;
  const places = [...Array(n).keys()].sort((a, b) => (vertexKeys[a] ?? 0) - (vertexKeys[b] ?? 0));
  const newIndex = new Map(places.map((old, now) => [old, now]));
  const positions = Float32Array.from(places.flatMap(v => [...mesh.positions.subarray(3 * v, 3 * v + 3)]));
  const faces = [...Array(mesh.triangles.length / 3).keys()].sort(
    (a, b) => (faceKeys[a] ?? 0) - (faceKeys[b] ?? 0),
  );
  const triangles = Uint32Array.from(
    faces.flatMap(f =>
      [0, 1, 2].map(c => newIndex.get(mesh.triangles[3 * f + ((c + (turns[f] ?? 0)) % 3)]) ?? 0),
    ),
  );
  return { positions, triangles };
}

const keys = (n: number): fc.Arbitrary<number[]> =>
  fc.array(fc.double({ noNaN: true }), { minLength: n, maxLength: n });

describe('sameTriangles', () => {
  it('sees through any order of vertices, faces and starting corners', () => {
    fc.assert(
      fc.property(keys(10), keys(8), fc.array(fc.nat(2), { minLength: 8, maxLength: 8 }), (v, f, t) => {
        expect(sameTriangles(strip, shuffled(strip, v, f, t))).toBe(true);
      }),
    );
  });

  it('tells a face seen from its other side, a moved vertex, a repeated face', () => {
    const flipped = { ...strip, triangles: strip.triangles.slice() };
    flipped.triangles.set([1, 0, 2], 0);
    expect(sameTriangles(strip, flipped)).toBe(false);
    const moved = { ...strip, positions: strip.positions.slice() };
    moved.positions[4] += 1e-5;
    expect(sameTriangles(strip, moved)).toBe(false);
    const repeated = { ...strip, triangles: strip.triangles.slice() };
    repeated.triangles.set([0, 1, 2], 3);
    expect(sameTriangles(strip, repeated)).toBe(false);
  });
});
