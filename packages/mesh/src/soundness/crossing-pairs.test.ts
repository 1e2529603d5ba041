import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshOf } from '../testing/builder.ts';
import { joined, moved, rotation, translated } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, icosphere, prism, torus } from '../testing/shapes.ts';
import { cubesSharingEdge, cubesSharingFace, cubesSharingVertex } from '../testing/surfaces.ts';
import type { Mesh } from '../types.ts';
import { crossingPairs } from './crossing-pairs.ts';
import { crossingPlace } from './crossing-place.ts';
import { facesCross } from './faces-cross.ts';

describe('crossingPairs', () => {
  it('finds none in sound meshes, nor where solids only touch', () => {
    const q = rotation(0.3, -0.7, 0.2, 0.9);
    for (const mesh of [
      box(1, 2, 3),
      prism(24, 5, 20),
      torus(10, 3, 24, 16),
      icosphere(3, 3),
      plateWithHoles(60, 20, 6, [
        { x: 10, y: 10, r: 4, sides: 31 },
        { x: 40, y: 9, r: 7, sides: 48, depth: 3 },
      ]),
      cubesSharingEdge(),
      cubesSharingFace(),
      cubesSharingVertex(),
    ]) {
      expect(crossingPairs(mesh)).toEqual({ pairs: new Int32Array(0), complete: true });
      const float = moved(mesh, q, [1, 2, 3]);
      if (mesh.triangles.length > 100) expect(crossingPairs(float).complete).toBe(true);
    }
  });

  it('finds where a peg passes through a plate', () => {
    // Four corner edges, each through the inside of a face of the plate's top and one of its bottom; and each of the
    // peg's four sides crosses both.
    const mesh = joined(box(10, 10, 1), box(1, 1, 9, [6, 2, -4]));
    const { pairs, complete } = crossingPairs(mesh);
    expect(complete).toBe(true);
    const peg = [...pairs].filter((_, i) => i % 2 === 1);
    expect(peg.every(face => face >= 12)).toBe(true);
    expect(new Set(peg)).toEqual(new Set([16, 17, 18, 19, 20, 21, 22, 23]));
    for (let i = 0; i < pairs.length; i += 2) {
      const [x, y, z] = crossingPlace(mesh, pairs[i], pairs[i + 1]);
      expect([0, 1]).toContain(z);
      expect(Math.max(Math.abs(x - 6.5), Math.abs(y - 2.5))).toBeCloseTo(0.5, 12);
    }
  });

  it('counts faces that overlap in one plane, and places them in the overlap', () => {
    const mesh = meshOf(
      [
        [0, 0, 0],
        [4, 0, 0],
        [0, 4, 0],
        [1, 1, 0],
        [5, 1, 0],
        [1, 5, 0],
      ],
      [
        [0, 1, 2],
        [3, 4, 5],
      ],
    );
    expect([...crossingPairs(mesh).pairs]).toEqual([0, 1]);
    const [x, y, z] = crossingPlace(mesh, 0, 1);
    expect(z).toBe(0);
    expect(Math.min(x - 1, y - 1, 4 - x - y)).toBeGreaterThan(0);
  });

  it('agrees with trying all pairs', () => {
    // No numbers so small that their products vanish: the exact predicates stop there.
    const coordinate = fc.oneof(
      fc.integer({ min: -3, max: 3 }),
      fc.integer({ min: -3e6, max: 3e6 }).map(n => n / 2 ** 20),
    );
    const face = fc.tuple(...[0, 1, 2].map(() => fc.nat(11)));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(coordinate, coordinate, coordinate), { minLength: 12, maxLength: 12 }),
        fc.array(
          face.filter(([a, b, c]) => a !== b && b !== c && c !== a),
          { maxLength: 12 },
        ),
        (points, faces) => {
          const mesh = meshOf(points, faces);
          const expected: number[] = [];
          for (let f = 0; f < faces.length; f++)
            for (let g = f + 1; g < faces.length; g++)
              if (facesCross(mesh.positions, mesh.triangles, f, g)) expected.push(f, g);
          expect([...crossingPairs(mesh).pairs]).toEqual(expected);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('does not depend on the order or place of the faces', () => {
    const mesh = joined(icosphere(5, 2), translated(icosphere(4, 2), [3, 1, 2]));
    const expected = crossingPairs(mesh).pairs.length;
    expect(expected).toBeGreaterThan(40);
    const reversed: Mesh = { positions: mesh.positions, triangles: mesh.triangles.slice().reverse() };
    expect(crossingPairs(reversed).pairs).toHaveLength(expected);
    expect(crossingPairs(moved(mesh, rotation(2, 1, -1, 3), [9, 9, 9])).pairs).toHaveLength(expected);
  });

  it('stops at the limit and says so', () => {
    const fans = Array.from({ length: 40 }, (_, i) =>
      moved(box(10, 1, 1, [-5, -0.5, -0.5]), rotation(Math.cos(i), 0, 0, Math.sin(i))),
    );
    const { pairs, complete } = crossingPairs(joined(...fans), { limit: 50 });
    expect(complete).toBe(false);
    expect(pairs).toHaveLength(100);
  });
});
