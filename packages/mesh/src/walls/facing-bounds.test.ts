import fc from 'fast-check';
import { expect, it } from 'vitest';
import { faceNormals } from '../face-normals.ts';
import { moved, randomFrom, rotation } from '../testing/motions.ts';
import { soup } from '../testing/soup.ts';
import { torus } from '../testing/shapes.ts';
import { buildTree } from '../tree/build.ts';
import { leafCount, leafStart, type TriangleTree } from '../tree/tree.ts';
import { facingBounds, facingDistance } from './facing-bounds.ts';

/** The slots under a node. */
function slotsOf({ links }: TriangleTree, node: number): number[] {
  const link = links[node];
  const tree = { links } as TriangleTree;
  if (link >= 0) return [...slotsOf(tree, link), ...slotsOf(tree, link + 1)];
  return Array.from({ length: leafCount(link) }, (_, i) => leafStart(link) + i);
}

it('never rules out points that face each other, nor tells more than their distance', () => {
  let facing = 0;
  fc.assert(
    fc.property(
      fc.integer(),
      fc.boolean(),
      fc.double({ min: 0, max: 1.6, noNaN: true }),
      (seed, round, angle) => {
        const random = randomFrom(seed);
        const mesh = round ? moved(torus(6, 2, 12, 8), rotation(1, 2, 3, 4)) : soup(random, 60);
        const tree = buildTree(mesh);
        const { normals } = faceNormals(mesh);
        const reach = new Float32Array(mesh.triangles.length / 3).fill(angle);
        const bounds = facingBounds(tree, normals, reach);
        const { vertices: v, corners, faceOf, links } = tree;
        const point = (slot: number): number[] => {
          const [s, t] = [Math.sqrt(random()), random()];
          const [a, b, c] = [0, 1, 2].map(k => 3 * corners[3 * slot + k]);
          return [0, 1, 2].map(k => (1 - s) * v[a + k] + s * (1 - t) * v[b + k] + s * t * v[c + k]);
        };
        const cosTo = (slot: number, line: readonly number[]): number =>
          [0, 1, 2].reduce((sum, k) => sum + normals[3 * faceOf[slot] + k] * line[k], 0);
        for (let i = 0; i < 40; i++) {
          const [a, b] = [0, 1].map(() => Math.floor(random() * links.length));
          for (const s of slotsOf(tree, a).slice(0, 6))
            for (const r of slotsOf(tree, b).slice(0, 6)) {
              const [p, q] = [point(s), point(r)];
              const apart = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
              if (!(apart > 0)) continue;
              const line = q.map((x, k) => (x - p[k]) / apart);
              if (-cosTo(s, line) < Math.cos(angle) || cosTo(r, line) < Math.cos(angle)) continue;
              facing++;
              expect(facingDistance(bounds, a, b)).toBeLessThanOrEqual(apart);
              expect(facingDistance(bounds, links.length + s, links.length + r)).toBeLessThanOrEqual(apart);
            }
        }
      },
    ),
    { numRuns: 40 },
  );
  expect(facing).toBeGreaterThan(1000);
}, 60_000);
