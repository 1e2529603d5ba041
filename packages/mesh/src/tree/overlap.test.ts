import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../testing/motions.ts';
import { soup } from '../testing/soup.ts';
import type { Mesh, Vec3 } from '../types.ts';
import { buildTree } from './build.ts';
import { forEachInBox, overlappingPairs } from './overlap.ts';

function faceBox(mesh: Mesh, face: number): { min: number[]; max: number[] } {
  const corners = [0, 1, 2].map(k => {
    const at = 3 * mesh.triangles[3 * face + k];
    return [...mesh.positions.subarray(at, at + 3)];
  });
  return {
    min: [0, 1, 2].map(k => Math.min(...corners.map(corner => corner[k]))),
    max: [0, 1, 2].map(k => Math.max(...corners.map(corner => corner[k]))),
  };
}
const meet = (a: { min: number[]; max: number[] }, b: { min: number[]; max: number[] }, margin: number) =>
  [0, 1, 2].every(k => a.min[k] <= b.max[k] + margin && b.min[k] <= a.max[k] + margin);

const seeds = fc.tuple(fc.integer(), fc.integer({ min: 0, max: 80 }), fc.integer({ min: 0, max: 80 }));

describe('overlappingPairs', () => {
  it('finds exactly the pairs whose boxes meet', () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(0, 0.5), ([seed, n, m], margin) => {
        const random = randomFrom(seed);
        const a = soup(random, n);
        const b = soup(random, m, 3);
        const found: string[] = [];
        overlappingPairs(buildTree(a), buildTree(b), (i, j) => found.push(`${i} ${j}`) < 0, margin);
        const expected: string[] = [];
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < m; j++)
            if (meet(faceBox(a, i), faceBox(b, j), margin)) expected.push(`${i} ${j}`);
        }
        expect(found.sort()).toEqual(expected.sort());
      }),
      { numRuns: 60 },
    );
  });

  it('finds every pair within one mesh once', () => {
    fc.assert(
      fc.property(seeds, ([seed, n]) => {
        const mesh = soup(randomFrom(seed), n);
        const tree = buildTree(mesh);
        const found: string[] = [];
        overlappingPairs(tree, tree, (i, j) => found.push(`${Math.min(i, j)} ${Math.max(i, j)}`) < 0);
        const expected: string[] = [];
        for (let i = 0; i < n; i++) {
          for (let j = i + 1; j < n; j++)
            if (meet(faceBox(mesh, i), faceBox(mesh, j), 0)) expected.push(`${i} ${j}`);
        }
        expect(found.sort()).toEqual(expected.sort());
      }),
      { numRuns: 60 },
    );
  });

  it('stops when told to', () => {
    const tree = buildTree(soup(randomFrom(1), 50));
    let calls = 0;
    overlappingPairs(tree, tree, () => ++calls === 3);
    expect(calls).toBe(3);
  });
});

describe('forEachInBox', () => {
  it('finds exactly the faces whose boxes meet the box', () => {
    fc.assert(
      fc.property(seeds, ([seed, n]) => {
        const random = randomFrom(seed);
        const mesh = soup(random, n);
        const low = [0, 0, 0].map(() => Math.round(20 * random() - 10));
        const high = low.map(value => value + 6 * random());
        const found: number[] = [];
        forEachInBox(
          buildTree(mesh),
          low as unknown as Vec3,
          high as unknown as Vec3,
          face => found.push(face) < 0,
        );
        const expected = Array.from({ length: n }, (_, i) => i).filter(i =>
          meet(faceBox(mesh, i), { min: low, max: high }, 0),
        );
        expect(found.sort((x, y) => x - y)).toEqual(expected);
      }),
      { numRuns: 60 },
    );
  });
});
