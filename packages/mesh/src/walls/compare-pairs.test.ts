import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshDefaults } from '../defaults.ts';
import { faceNormals } from '../face-normals.ts';
import { flipped, joined, moved, randomFrom, rotation, shuffled } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { frustum, icosphere, prism, torus, tube } from '../testing/shapes.ts';
import { faceAdjacency } from '../topology/face-adjacency.ts';
import { buildTree } from '../tree/build.ts';
import type { Mesh } from '../types.ts';
import { comparePairs } from './compare-pairs.ts';
import { lookAcross } from './look-across.ts';
import { thinPlaces } from './thin-places.ts';
import { nearest, triangleDistanceSq } from './triangle-distance.ts';
import { wallSearch, type WallSearch } from './wall-search.ts';

function searchOf(mesh: Mesh): WallSearch {
  const tree = buildTree(mesh);
  const { normals } = faceNormals(mesh);
  const surface = {
    positions: mesh.positions,
    triangles: mesh.triangles,
    neighbors: faceAdjacency(mesh),
    normals,
  };
  return wallSearch(surface, tree, thinPlaces(meshDefaults.walls.places, tree.diagonal / 10));
}

/** All pairs of triangles, none left out. */
function offerAll(search: WallSearch): void {
  const { corners, vertices, faceOf, size } = search.tree;
  const at = (slot: number): [number, number, number] => [
    3 * corners[3 * slot],
    3 * corners[3 * slot + 1],
    3 * corners[3 * slot + 2],
  ];
  for (let s = 0; s < size; s++)
    for (let r = s + 1; r < size; r++) {
      const [a, b] = [at(s), at(r)];
      if (a.some(v => b.includes(v))) continue;
      if (!(triangleDistanceSq(vertices, a, b, Infinity) > 0)) continue;
      const [x, y, z, u, v, w] = nearest;
      search.offer(faceOf[s], [x, y, z], faceOf[r], [u, v, w]);
    }
}

/** A lump with random dents: every corner moved by up to `by`. */
function dented(mesh: Mesh, random: () => number, by: number): Mesh {
  return { ...mesh, positions: Float64Array.from(mesh.positions, x => x + by * (random() - 0.5)) };
}

const hollow = fc.oneof(
  fc
    .tuple(fc.integer({ min: 3, max: 24 }), fc.double({ min: 0.5, max: 3.5, noNaN: true }))
    .map(([sides, r]) => plateWithHoles(20, 16, 4, [{ x: 9, y: 8, r, sides, ...(r > 2 && { depth: 3.1 }) }])),
  fc.integer({ min: 3, max: 40 }).map(n => tube(n, 10, 8.5, 20)),
  // Long facets opposite small ones.
  fc
    .integer({ min: 3, max: 16 })
    .map(n => joined(icosphere(10, 2), flipped(moved(prism(n, 3, 12), rotation(1, 0, 0, 0), [0, 0.5, -6])))),
);
const bulging = fc.oneof(
  fc.integer({ min: 3, max: 40 }).map(n => prism(n, 3, 10)),
  fc.integer({ min: 3, max: 24 }).map(n => frustum(n, 3, 2.4, 8)),
  fc.integer({ min: 4, max: 12 }).map(n => torus(6, 2, 2 * n, n)),
  fc.constant(icosphere(4, 2)),
);
const quaternion = fc.tuple(...[0, 1, 2, 3].map(() => fc.integer({ min: 1, max: 9 })));

/** The thinnest wall by the search, and by all pairs of triangles, of a part put anywhere. */
function bothWays(
  mesh: Mesh,
  seed: number,
  dents: number,
  turn: readonly number[],
  look: boolean,
): [number, number] {
  const random = randomFrom(seed);
  const [w, x, y, z] = turn;
  const placed = moved(shuffled(dented(mesh, random, dents), random), rotation(w, x, y, z), [5, -3, 8]);
  const [fast, slow] = [searchOf(placed), searchOf(placed)];
  if (look) [fast, slow].forEach(lookAcross);
  expect(comparePairs(fast, meshDefaults.walls.pairsPerFace)).toBe(Infinity);
  offerAll(slow);
  return [fast.places.thinnest(), slow.places.thinnest()];
}

const alike = (a: number, b: number): boolean => a === b || Math.abs(a - b) < 1e-7 * b;

describe('comparePairs', () => {
  it('finds what all pairs of triangles hold, where surfaces are flat or hollow', () => {
    let walls = 0;
    fc.assert(
      fc.property(
        hollow,
        fc.integer(),
        fc.constantFrom(0, 0.01, 0.3),
        quaternion,
        (mesh, seed, dents, turn) => {
          const [found, expected] = bothWays(mesh, seed, dents, turn, false);
          if (expected < Infinity) walls++;
          expect(found).toSatisfy((thickness: number) => alike(thickness, expected));
        },
      ),
      { numRuns: 100 },
    );
    expect(walls).toBeGreaterThan(50);
  }, 60_000);

  it('finds it in regular parts that bulge, too', () => {
    fc.assert(
      fc.property(bulging, fc.integer(), quaternion, (mesh, seed, turn) => {
        const [found, expected] = bothWays(mesh, seed, 0, turn, true);
        expect(found).toSatisfy((thickness: number) => alike(thickness, expected));
      }),
      { numRuns: 50 },
    );
  }, 60_000);
});
