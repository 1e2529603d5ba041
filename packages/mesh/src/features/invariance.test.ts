import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bore, Feature, Pin } from '../measurement.ts';
import { moved, randomFrom, rotation, shuffled } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';

import type { Mesh } from '../types.ts';
import { findFeatures } from './find-features.ts';

const rounds = (features: readonly Feature[]) => features.filter((f): f is Bore | Pin => f.kind !== 'plane');

/** Tube whose walls are split into `rows` rings of triangles, every vertex moved by up to `noise`. */
function fineTube(sides: number, rows: number, noise: number, seed: number): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  const random = randomFrom(seed);
  const rings = [6, 4].map(r =>
    Array.from({ length: rows + 1 }, (_, row) =>
      Array.from({ length: sides }, (_, i) => {
        const angle = (2 * Math.PI * (i + (row % 2) / 2)) / sides;
        const at = [r * Math.cos(angle), r * Math.sin(angle), (10 * row) / rows];
        positions.push(...at.map(c => c + (2 * random() - 1) * noise));
        return positions.length / 3 - 1;
      }),
    ),
  );
  const face = (a: number, b: number, c: number, out: boolean) =>
    triangles.push(...(out ? [a, b, c] : [a, c, b]));
  rings.forEach((wall, w) => {
    for (let row = 0; row < rows; row++) {
      for (let i = 0; i < sides; i++) {
        const j = (i + 1) % sides;
        const [low, high] = [wall[row], wall[row + 1]];
        if (row % 2 === 0) {
          face(low[i], low[j], high[i], w === 0);
          face(low[j], high[j], high[i], w === 0);
        } else {
          face(low[i], high[j], high[i], w === 0);
          face(low[i], low[j], high[j], w === 0);
        }
      }
    }
  });
  for (const row of [0, rows]) {
    for (let i = 0; i < sides; i++) {
      const j = (i + 1) % sides;
      face(rings[0][row][i], rings[0][row][j], rings[1][row][i], row === rows);
      face(rings[0][row][j], rings[1][row][j], rings[1][row][i], row === rows);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('findFeatures on other surfaces', () => {
  it('moves with the part and does not depend on the order of faces', () => {
    const mesh = plateWithHoles(60, 20, 5, [
      { x: 10, y: 10, r: 1.6, sides: 24 },
      { x: 25, y: 10, r: 3, sides: 6 },
      { x: 45, y: 10, r: 5, sides: 96, depth: 2 },
    ]);
    const plain = findFeatures(mesh);
    const quaternion = fc.tuple(...[0, 1, 2, 3].map(() => fc.integer({ min: -9, max: 9 })));
    fc.assert(
      fc.property(
        quaternion.filter(q => q.some(c => c !== 0)),
        fc.integer(),
        fc.boolean(),
        ([w, x, y, z], seed, single) => {
          const turn = rotation(w, x, y, z);
          const other = moved(shuffled(mesh, randomFrom(seed)), turn, [30, -40, 50]);
          const positions = single ? Float32Array.from(other.positions) : other.positions;
          const found = findFeatures({ positions, triangles: other.triangles });
          expect(found.map(f => f.kind)).toEqual(plain.map(f => f.kind));
          const digits = single ? 3 : 7;
          rounds(plain).forEach((before, i) => {
            const after = rounds(found)[i];
            expect(after.through).toBe(before.through);
            expect(after.sides).toBe(before.sides);
            expect(after.diameter_mm).toBeCloseTo(before.diameter_mm, digits);
            expect(after.inscribed_diameter_mm).toBeCloseTo(before.inscribed_diameter_mm, digits);
            expect(after.length_mm).toBeCloseTo(before.length_mm, digits);
            turn.forEach((row, k) => {
              const at = row.reduce((sum, c, j) => sum + c * before.at_mm[j], [30, -40, 50][k]);
              expect(after.at_mm[k]).toBeCloseTo(at, digits);
            });
          });
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each([0, 0.005, 0.02])(
    'finds bore and pin of a fine skewed tube with vertices off by up to %d mm',
    noise => {
      const found = rounds(findFeatures(fineTube(64, 20, noise, 7)));
      expect(found.map(f => f.kind)).toEqual(['bore', 'pin']);
      expect(found[0].through).toBe(true);
      for (const [i, diameter] of [8, 12].entries()) {
        expect(Math.abs(found[i].diameter_mm - diameter)).toBeLessThanOrEqual(1e-6 + noise / 4);
        expect(Math.abs(found[i].axis[2])).toBeGreaterThan(1 - 1e-4);
        expect(found[i].length_mm).toBeGreaterThan(9.5);
        expect(found[i].turn).toBeGreaterThan(0.95);
        expect(found[i].residual_mm).toBeLessThanOrEqual(1e-6 + 4 * noise);
      }
    },
  );

  it('never fails and never gives NaN on odd meshes', () => {
    const empty = { positions: new Float64Array(0), triangles: new Uint32Array(0) };
    expect(findFeatures(empty)).toEqual([]);
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
          const found = findFeatures({
            positions: Float64Array.from(numbers.slice(0, 3 * vertices)),
            triangles: Uint32Array.from(
              indices.slice(0, 3 * Math.floor(indices.length / 3)),
              i => i % vertices,
            ),
          });
          for (const feature of found) {
            const figures = Object.values(feature).flat() as unknown[];
            for (const figure of figures) if (typeof figure === 'number') expect(figure).not.toBeNaN();
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});
