import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshBuilder } from '../testing/builder.ts';
import { joined, moved, randomFrom, rotation, shuffled } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, frustum, icosphere, prism, tetrahedron, tube } from '../testing/shapes.ts';
import { buildTree } from '../tree/build.ts';
import type { Mesh } from '../types.ts';
import { thinnestWalls } from './thinnest-walls.ts';

const thinnest = (mesh: Mesh) => thinnestWalls(mesh, buildTree(mesh)).thinnest_mm;

/** Rib 10 long (y), 4 high, `foot` wide at the bottom and `tip` at the top. */
function rib(foot: number, tip: number): Mesh {
  const m = meshBuilder();
  const section = [
    [-foot / 2, 0],
    [foot / 2, 0],
    [tip / 2, 4],
    [-tip / 2, 4],
  ];
  const front = section.map(([x, z]) => m.vertex(x, 0, z));
  const back = section.map(([x, z]) => m.vertex(x, 10, z));
  m.polygon(front);
  m.polygon([...back].reverse());
  for (let i = 0; i < 4; i++) m.quad(front[(i + 1) % 4], front[i], back[i], back[(i + 1) % 4]);
  return m.mesh();
}

// Expected values are closed forms of the shapes.
describe('thinnestWalls', () => {
  it.each([
    ['a plate', box(10, 20, 3), 3],
    ['a tube, between its flats', tube(48, 10, 9, 20), Math.cos(Math.PI / 48)],
    ['a pin of 32 sides, across the flats', prism(32, 5, 20), 10 * Math.cos(Math.PI / 32)],
    ['a bore of 6 sides by an edge', plateWithHoles(20, 20, 5, [{ x: 16, y: 10, r: 3, sides: 6 }]), 1],
    [
      'the floor of a blind bore',
      plateWithHoles(30, 30, 5, [{ x: 15, y: 15, r: 3, sides: 24, depth: 4.2 }]),
      0.8,
    ],
    ['a tapering rib, at its tip', rib(1.6, 0.8), 0.8],
    ['two plates with a narrow gap of air', joined(box(10, 10, 2), box(10, 10, 3, [0, 0, 2.1])), 2],
  ])('is exact for %s', (_, mesh, expected) => {
    expect(thinnest(mesh)).toBeCloseTo(expected, 9);
  });

  it('gives a wall between two bores, wherever it stands', () => {
    const mesh = plateWithHoles(40, 20, 5, [
      { x: 15, y: 10, r: 3, sides: 24 },
      { x: 22, y: 10, r: 3.4, sides: 24 },
    ]);
    expect(thinnest(mesh)).toBeCloseTo(0.6, 9);
    const quaternion = fc.tuple(...[0, 1, 2, 3].map(() => fc.integer({ min: -9, max: 9 })));
    fc.assert(
      fc.property(
        quaternion.filter(q => q.some(c => c !== 0)),
        fc.integer(),
        ([w, x, y, z], seed) => {
          const turned = moved(shuffled(mesh, randomFrom(seed)), rotation(w, x, y, z), [30, -40, 50]);
          expect(thinnest(turned)).toBeCloseTo(0.6, 7);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('gives a ball its diameter, less what its facets take off', () => {
    const found = thinnest(icosphere(5, 3)) ?? NaN;
    expect(found).toBeGreaterThan(9.9);
    expect(found).toBeLessThanOrEqual(10);
  });

  it.each([
    ['tetrahedron', tetrahedron()],
    ['cone', frustum(24, 5, 0, 20)],
  ])('finds no wall in a %s: its faces meet in edges', (_, mesh) => {
    const result = thinnestWalls(mesh, buildTree(mesh));
    expect(result.thinnest_mm).toBeNull();
    expect(result.notes).toMatchObject([{ code: 'no-walls', about: 'thinnest_wall_mm' }]);
  });

  it('tells the places, thinnest first and apart from each other', () => {
    const mesh = plateWithHoles(60, 40, 5, [
      { x: 15, y: 20, r: 4, sides: 24 },
      { x: 24, y: 20, r: 4, sides: 24 },
      { x: 45, y: 20, r: 4, sides: 24 },
      { x: 54.2, y: 20, r: 4, sides: 24 },
    ]);
    const { places } = thinnestWalls(mesh, buildTree(mesh));
    expect(places.slice(0, 2).map(p => Math.round(p.thickness_mm * 1e6) / 1e6)).toEqual([1, 1.2]);
    expect([places[0].from_mm[0], places[0].to_mm[0]].sort((a, b) => a - b)).toEqual([
      expect.closeTo(19, 9),
      expect.closeTo(20, 9),
    ]);
  });

  it('says so when it may not look at all pairs', () => {
    const mesh = plateWithHoles(40, 20, 5, [{ x: 15, y: 10, r: 3, sides: 24 }]);
    expect(thinnestWalls(mesh, buildTree(mesh)).notes).toEqual([]);
    const { notes } = thinnestWalls(mesh, buildTree(mesh), { pairsPerFace: 0 });
    expect(notes).toMatchObject([{ code: 'walls-not-all-compared', about: 'thinnest_wall_mm' }]);
  });

  it('never fails on odd meshes', () => {
    const empty = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    expect(thinnest(empty)).toBeNull();
    const single = {
      positions: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(thinnest(single)).toBeNull();
    const coordinate = fc.oneof(
      fc.double(),
      fc.integer({ min: -2, max: 2 }),
      fc.constant(NaN),
      fc.constant(Infinity),
    );
    fc.assert(
      fc.property(
        fc.array(coordinate, { minLength: 9, maxLength: 30 }),
        fc.array(fc.nat(), { minLength: 3, maxLength: 60 }),
        (numbers, indices) => {
          const vertices = Math.floor(numbers.length / 3);
          const mesh = {
            positions: Float64Array.from(numbers.slice(0, 3 * vertices)),
            triangles: Uint32Array.from(
              indices.slice(0, 3 * Math.floor(indices.length / 3)),
              i => i % vertices,
            ),
          };
          const found = thinnest(mesh);
          expect(found === null || found > 0).toBe(true);
        },
      ),
    );
  });
});
