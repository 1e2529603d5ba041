import fc from 'fast-check';
import { expect, it } from 'vitest';
import { faceNormals } from '../face-normals.ts';
import { flipped, joined, moved, rotation } from '../testing/motions.ts';
import { icosphere, prism } from '../testing/shapes.ts';
import { buildTree } from '../tree/build.ts';
import { leafCount, leafStart } from '../tree/tree.ts';
import { facingBounds } from './facing-bounds.ts';
import { leafMayFace } from './long-faces.ts';
import { nearest, triangleDistanceSq } from './triangle-distance.ts';

it('keeps every leaf with a face that faces another, near enough and near enough to its normal', () => {
  let facing = 0;
  let apart = 0;
  fc.assert(
    fc.property(
      fc.integer({ min: 3, max: 12 }),
      fc.double({ min: 0.05, max: 0.6, noNaN: true }),
      fc.double({ min: 3, max: 9, noNaN: true }),
      (sides, angle, bound) => {
        // Long facets around a bore, small ones opposite.
        const cavity = flipped(moved(prism(sides, 3, 12), rotation(1, 0, 0, 0), [0, 0.5, -6]));
        const mesh = moved(joined(icosphere(10, 2), cavity), rotation(1, 2, 3, 4), [5, 6, 7]);
        const tree = buildTree(mesh);
        const { normals } = faceNormals(mesh);
        const { vertices, corners, faceOf, links } = tree;
        const reach = new Float32Array(tree.size).fill(angle);
        const bounds = facingBounds(tree, normals, reach);
        const ridges = new Uint8Array(tree.size);
        const pieces = { reach, smooth: reach, ridges, bulges: ridges, vertices, normals };
        const slots = (leaf: number): number[] =>
          Array.from({ length: leafCount(links[leaf]) }, (_, i) => leafStart(links[leaf]) + i);
        const at = (slot: number): [number, number, number] => [
          3 * corners[3 * slot],
          3 * corners[3 * slot + 1],
          3 * corners[3 * slot + 2],
        ];
        const meet = (s: number, r: number): boolean => {
          const distance = Math.sqrt(triangleDistanceSq(vertices, at(s), at(r), Infinity));
          const cosTo = (slot: number, sign: number): number =>
            [0, 1, 2].reduce(
              (sum, k) =>
                sum + (sign * normals[3 * faceOf[slot] + k] * (nearest[3 + k] - nearest[k])) / distance,
              0,
            );
          return distance < bound && cosTo(s, -1) > Math.cos(angle) && cosTo(r, 1) > Math.cos(angle);
        };
        const leaves = [...links.keys()].filter(node => links[node] < 0);
        const long = leaves.filter(leaf => slots(leaf).some(slot => faceOf[slot] >= 320));
        for (const a of long)
          for (const b of leaves) {
            const kept = leafMayFace(tree, bounds, pieces, a, b, bound);
            if (!kept) apart++;
            if (!slots(a).some(s => slots(b).some(r => meet(s, r)))) continue;
            facing++;
            expect(kept).toBe(true);
          }
      },
    ),
    { numRuns: 20 },
  );
  expect(facing).toBeGreaterThan(100);
  expect(apart).toBeGreaterThan(100);
}, 60_000);
