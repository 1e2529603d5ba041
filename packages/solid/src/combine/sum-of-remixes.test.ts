import type { Mesh } from '@kinprint/mesh';
import { expect, it } from 'vitest';
import { ballMesh, mapped } from '../testing/shapes.ts';
import { gluedRemixes } from './glued-remixes.ts';
import { isSumOfRemixes } from './sum-of-remixes.ts';

const tolerance_mm = 1e-3;
const ball = ballMesh(10, 24, 36);
/** Pulled out by `by_mm` near a pole of the z axis. */
const pulled = (mesh: Mesh, sign: 1 | -1, by_mm: number): Mesh =>
  mapped(mesh, ([x, y, z]) => (sign * z > 8 ? [x, y, z + (sign * by_mm * (sign * z - 8)) / 2] : [x, y, z]));
const [a, b] = [pulled(ball, 1, 3), pulled(ball, -1, -2)];
const meshes = { base: ball, a, b };
const both = pulled(a, -1, -2);

const single = (mesh: Mesh): Mesh => ({ ...mesh, positions: Float32Array.from(mesh.positions) });

it('a result with the faces of both is their sum, in any order of faces and corners, rounded as in a file or not', () => {
  expect(isSumOfRemixes(meshes, both, tolerance_mm)).toBe(true);
  expect(isSumOfRemixes(meshes, single(both), tolerance_mm)).toBe(true);
  expect(isSumOfRemixes({ ...meshes, a: b, b: a }, single(both), tolerance_mm)).toBe(true);
  const glued = gluedRemixes(meshes, tolerance_mm)!;
  expect(isSumOfRemixes(meshes, glued.mesh, tolerance_mm)).toBe(true);
  const faces = Array.from({ length: both.triangles.length / 3 }, (_, f) =>
    both.triangles.slice(3 * f, 3 * f + 3),
  );
  const other = Uint32Array.from(faces.reverse().flatMap(([p, q, r]) => [q, r, p]));
  expect(isSumOfRemixes(meshes, { ...both, triangles: other }, tolerance_mm)).toBe(true);
});

it('with nothing changed by one, the other is; any other is not', () => {
  expect(isSumOfRemixes({ base: ball, a: ball, b }, b, tolerance_mm)).toBe(true);
  for (const wrong of [ball, a, b, pulled(both, 1, 0.01)])
    expect(isSumOfRemixes(meshes, wrong, tolerance_mm)).toBe(false);
  const turned = both.triangles.slice();
  turned.set([turned[1], turned[0]]);
  expect(isSumOfRemixes(meshes, { ...both, triangles: turned }, tolerance_mm)).toBe(false);
  const less = { ...both, triangles: both.triangles.subarray(3) };
  expect(isSumOfRemixes(meshes, less, tolerance_mm)).toBe(false);
});
