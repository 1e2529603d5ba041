import { expect, it } from 'vitest';
import { findShells } from '../shells.ts';
import { ballMesh, boxMesh } from '../testing/shapes.ts';
import { matchFaces } from './match-faces.ts';

const same = (n: number) => Int32Array.from({ length: n }, (_, v) => v);

it('finds the same face whatever corner it starts with, but not turned over, and each once', () => {
  const after = Uint32Array.of(0, 1, 2, 1, 2, 3);
  expect(matchFaces(Uint32Array.of(2, 0, 1), after, same(4), 4)).toEqual({
    before: Uint8Array.of(0),
    after: Uint8Array.of(0, 1),
  });
  expect(matchFaces(Uint32Array.of(0, 2, 1), after, same(4), 4).before).toEqual(Uint8Array.of(1));
  expect(matchFaces(Uint32Array.of(0, 1, 2, 0, 1, 2), after, same(4), 4).before).toEqual(Uint8Array.of(0, 1));
  expect(matchFaces(Uint32Array.of(0, 1, 2), after, Int32Array.of(0, -1, 2, 3), 4).before).toEqual(
    Uint8Array.of(1),
  );
});

it('what stays unpaired is a closed cycle when both meshes are', () => {
  const ball = ballMesh(1, 8, 10);
  const triangles = ball.triangles.slice();
  // Turn the common edge of the two faces of one patch around.
  const [a, b, c] = triangles.slice(6, 9);
  const d = triangles[11];
  expect([...triangles.slice(9, 12)]).toEqual([a, c, d]);
  triangles.set([a, b, d, b, c, d], 6);
  const { before, after } = matchFaces(
    ball.triangles,
    triangles,
    same(ball.positions.length / 3),
    ball.positions.length / 3,
  );
  expect([before.indexOf(1), before.lastIndexOf(1), after.indexOf(1), after.lastIndexOf(1)]).toEqual([
    2, 3, 2, 3,
  ]);
  const cycle = [...triangles.slice(6, 12), b, a, c, c, a, d];
  expect(findShells({ positions: ball.positions, triangles: Uint32Array.from(cycle) }).closed).toBe(true);
});

it('a box shares all faces with itself', () => {
  const { triangles } = boxMesh([0, 0, 0], [1, 1, 1]);
  const { before, after } = matchFaces(triangles, triangles, same(8), 8);
  expect([...before, ...after]).toEqual(new Array(24).fill(0));
});
