import fc from 'fast-check';
import { closestHit, closestPoint, buildTree, type Mesh } from '@kinprint/mesh';
import { expect, it } from 'vitest';
import { ballMesh, boxMesh } from '../testing/shapes.ts';
import { shapeOf } from './testing.ts';
import { tidied } from './tidied.ts';

const edgeLengths = ({ positions: p, triangles: t }: Mesh): number[] =>
  Array.from(t, (v, h) => {
    const w = t[h % 3 === 2 ? h - 2 : h + 1];
    return Math.hypot(p[3 * v] - p[3 * w], p[3 * v + 1] - p[3 * w + 1], p[3 * v + 2] - p[3 * w + 2]);
  });

/** Splits one face at a point `share` along its first edge, pulled off by `off_mm`, and the face on the other side. */
function split({ positions, triangles }: Mesh, face: number, share: number, off_mm: number): Mesh {
  const [a, b] = [triangles[3 * face], triangles[3 * face + 1]];
  const middle = [0, 1, 2].map(
    k => (1 - share) * positions[3 * a + k] + share * positions[3 * b + k] + off_mm * (k - 1),
  );
  const n = positions.length / 3;
  const faces: number[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    const at = [0, 1, 2].find(
      k =>
        (triangles[i + k] === a && triangles[i + ((k + 1) % 3)] === b) ||
        (triangles[i + k] === b && triangles[i + ((k + 1) % 3)] === a),
    );
    const corners = [...triangles.subarray(i, i + 3)];
    if (at === undefined) {
      faces.push(...corners);
      continue;
    }
    const [p, q, r] = [0, 1, 2].map(k => corners[(at + k) % 3]);
    faces.push(p, n, r, n, q, r);
  }
  return {
    positions: Float64Array.from([...positions, ...middle]),
    triangles: Uint32Array.from(faces),
  };
}

it('takes a corner back that lies a hair beside another', () => {
  const box = boxMesh([0, 0, 0], [10, 20, 30]);
  const spoiled = split(box, 0, 1e-5, 0);
  expect(Math.min(...edgeLengths(spoiled))).toBeLessThan(1e-3);
  const tidy = tidied(spoiled, 1e-3);
  expect(tidy.triangles.length).toBe(box.triangles.length);
  expect(shapeOf(tidy)).toEqual({ volume_mm3: 6000, shells: 1, handles: 0 });
});

it('any splits of a ball: closed and of one piece as before, no short edge left, no point moved far', () => {
  const cuts = fc.array(
    fc.record({
      face: fc.nat(),
      share: fc.constantFrom(1e-6, 1e-4, 0.3, 0.5, 1 - 1e-5),
      off_mm: fc.constantFrom(0, 1e-5, -2e-5),
    }),
    { minLength: 1, maxLength: 25 },
  );
  fc.assert(
    fc.property(cuts, list => {
      const ball = ballMesh(10, 8, 12);
      const spoiled = list.reduce(
        (mesh, { face, share, off_mm }) => split(mesh, face % (mesh.triangles.length / 3), share, off_mm),
        ball,
      );
      const tidy = tidied(spoiled, 1e-3);
      const shape = shapeOf(tidy)!;
      expect({ shells: shape.shells, handles: shape.handles }).toEqual({ shells: 1, handles: 0 });
      expect(Math.min(...edgeLengths(tidy))).toBeGreaterThan(1e-3);
      const tree = buildTree(ball);
      const hit = closestHit();
      for (const v of new Set(tidy.triangles)) {
        const [x, y, z] = tidy.positions.subarray(3 * v, 3 * v + 3);
        closestPoint(tree, x, y, z, hit, 1);
        expect(hit.distanceSq).toBeLessThan(1e-4);
      }
      expect(Math.abs(shape.volume_mm3 - shapeOf(ball)!.volume_mm3)).toBeLessThan(1);
    }),
    { numRuns: 60 },
  );
});
