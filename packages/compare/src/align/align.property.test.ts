import { loadKernel, type Kernel } from '@kinprint/solid';
import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import { align } from './align.ts';
import { composePlacements } from './placement.ts';
import { exported, mapOf, plate, type Motion, type PlateDesign } from './testing/parts.ts';

const tolerance_mm = 1e-3;
let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const number = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const motion: fc.Arbitrary<Motion> = fc.record({
  turn: fc.tuple(number(-2, 2), number(-2, 2), number(-2, 2)),
  shift: fc.tuple(number(-80, 80), number(-80, 80), number(-80, 80)),
  scale: fc.oneof(fc.constant(1), number(0.8, 1.4)),
  mirror: fc.boolean(),
});
/** A plate that no motion but one brings onto itself: the boss and the bore stand off both middles, the boss is one-sided. */
const design: fc.Arbitrary<PlateDesign> = fc
  .record({
    x: number(30, 60),
    y: number(18, 28),
    z: number(2, 9),
    r: number(1, 2.5),
    h: number(3, 9),
    sides: fc.integer({ min: 12, max: 40 }),
  })
  .map(({ x, y, z, r, h, sides }) => ({
    size: [x, y, z],
    bores: [[0.2 * x, 0.3 * y, r]],
    bosses: [[0.7 * x, 0.6 * y, 3, h]],
    cuts: [],
    sides,
  }));

it('recovers any motion, reflection and factor of a part that has no symmetry', () => {
  fc.assert(
    fc.property(design, motion, (d, how) => {
      const before = plate(kernel, d);
      const found = align(before, exported(before, how), { tolerance_mm });
      expect(found.exact).toBe(true);
      const truth = mapOf(how);
      // A shift below a fifth of the tolerance is taken for none.
      found.alignment.matrix
        .slice(0, 3)
        .flat()
        .forEach((v, k) => expect(Math.abs(v - truth[k])).toBeLessThan(3e-4));
    }),
    { numRuns: 15 },
  );
});

it('survives a rework anywhere; there and back are inverse', () => {
  fc.assert(
    fc.property(design, motion, number(0.1, 0.8), number(0.1, 0.8), (d, how, u, v) => {
      const before = plate(kernel, d);
      const [x, y, z] = d.size;
      const reworked = plate(kernel, {
        ...d,
        cuts: [{ from: [u * x, v * y, z / 2], to: [u * x + 5, v * y + 4, 40] }],
      });
      const after = exported(reworked, how);
      const there = align(before, after, { tolerance_mm });
      const truth = mapOf(how);
      const m = there.alignment.matrix.slice(0, 3).flat();
      m.forEach((value, k) => expect(Math.abs(value - truth[k])).toBeLessThan(1e-3));
      const back = align(after, before, { tolerance_mm }).alignment.matrix.slice(0, 3).flat();
      const round = composePlacements(Float64Array.from(back), Float64Array.from(m));
      round.forEach((value, k) => expect(Math.abs(value - (k % 5 === 0 ? 1 : 0))).toBeLessThan(2e-3));
    }),
    { numRuns: 8 },
  );
});

it('is deterministic and never says what is not a number, on any triangles', () => {
  const mesh = fc
    .array(fc.tuple(number(-9, 9), number(-9, 9), number(-9, 9)), { minLength: 3, maxLength: 24 })
    .chain(points =>
      fc.array(fc.integer({ min: 0, max: points.length - 1 }), { maxLength: 60 }).map(corners => ({
        positions: Float64Array.from(points.flat()),
        triangles: Uint32Array.from(corners.slice(0, corners.length - (corners.length % 3))),
      })),
    );
  fc.assert(
    fc.property(mesh, mesh, (a, b) => {
      const found = align(a, b, { tolerance_mm });
      expect(found.alignment.matrix.flat().every(Number.isFinite)).toBe(true);
      expect(found.matchedBefore).toBeGreaterThanOrEqual(0);
      expect(found.matchedAfter).toBeLessThanOrEqual(1);
      expect(align(a, b, { tolerance_mm })).toEqual(found);
    }),
    { numRuns: 60 },
  );
});
