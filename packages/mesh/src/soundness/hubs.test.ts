import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moved, rotation } from '../testing/motions.ts';
import { prism } from '../testing/shapes.ts';
import { meshOf } from '../testing/builder.ts';
import type { Mesh, Vec3 } from '../types.ts';
import { crossingPairs } from './crossing-pairs.ts';
import { facesCross } from './faces-cross.ts';
import { hubsOf, pairsAtHubs } from './hubs.ts';

/** Pairs that the search at hubs hands on: a measure of its work. */
function looks(mesh: Mesh): number {
  const hubs = hubsOf(mesh);
  if (hubs === null) throw new Error('no hubs');
  let count = 0;
  pairsAtHubs(mesh, hubs, () => ++count > 1e7);
  return count;
}

/** A disk of many sectors: top and bottom meeting each in its middle, and a wall between. */
function turnedDisk(sides: number): Mesh {
  const points: Vec3[] = [
    [0, 0, 0],
    [0, 0, 5],
  ];
  for (let i = 0; i < sides; i++) {
    const angle = (2 * Math.PI * i) / sides;
    for (const z of [0, 5]) points.push([10 * Math.cos(angle), 10 * Math.sin(angle), z]);
  }
  const faces: [number, number, number][] = [];
  for (let i = 0; i < sides; i++) {
    const [a, b] = [2 + 2 * i, 2 + 2 * ((i + 1) % sides)];
    faces.push([a, b, b + 1], [a, b + 1, a + 1], [0, b, a], [1, a + 1, b + 1]);
  }
  return meshOf(points, faces);
}

describe('hubs', () => {
  it('are vertices of many faces only', () => {
    expect(hubsOf(prism(24, 5, 20))).toBeNull();
    const hubs = hubsOf(turnedDisk(80)) ?? [];
    expect([...hubs.slice(0, 8)]).toEqual([-1, -1, 0, 1, -1, -1, 0, 1]);
  });

  it('keep a fine turned disk cheap, in any position', () => {
    // All pairs of one cap: three million of them; each sector's arc meets those of its neighbors.
    for (const mesh of [
      turnedDisk(2500),
      moved(turnedDisk(2500), rotation(0.3, -0.7, 0.2, 0.9), [1, 2, 3]),
    ]) {
      expect(looks(mesh)).toBeLessThan(12 * 2500);
    }
    expect(crossingPairs(turnedDisk(2500))).toEqual({ pairs: new Int32Array(0), complete: true });
  });

  it('take one face many times as one', () => {
    const mesh = meshOf(
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
      Array.from({ length: 20_000 }, () => [0, 1, 2] as const),
    );
    expect(looks(mesh)).toBe(0);
    expect(crossingPairs(mesh)).toEqual({ pairs: new Int32Array(0), complete: true });
  });

  it('leave no crossing out', () => {
    const coordinate = fc.oneof(fc.integer({ min: -2, max: 2 }), fc.integer({ min: -3e6, max: 3e6 }));
    const place = fc.tuple(coordinate, coordinate, coordinate);
    const corner = fc.nat(29);
    fc.assert(
      fc.property(
        fc.uniqueArray(place, { minLength: 30, maxLength: 30, selector: String }),
        fc.array(
          fc
            .tuple(fc.constantFrom(0, 0, 0, 0, 1), corner, corner)
            .filter(([a, b, c]) => a !== b && b !== c && c !== a),
          { minLength: 90, maxLength: 120 },
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
      { numRuns: 40 },
    );
  });
});
