// What is bought for rows of bores: patterns by hand, and laws of motion.
import { screwLength } from '@kinprint/fit';
import { compareAssemblies, type AssemblyReport } from '@kinprint/registry';
import fc from 'fast-check';
import { afterAll, expect, it } from 'vitest';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { assembled } from '../../packages/registry/src/testing/assembled.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import '../support/property-seed.ts';

afterAll(removeTemporaryFolders);

type Place = readonly [number, number];
/** From left to right, as the plate is made. */
const four: readonly Place[] = [
  [8, 10],
  [22, 40],
  [36, 12],
  [52, 38],
];

interface Stack {
  readonly quantity?: number;
  readonly size?: string;
  readonly base?: readonly Place[];
  readonly lid?: readonly Place[];
  readonly lidAt?: readonly [number, number, number];
  readonly lidTurn?: number;
  readonly baseAt?: readonly [number, number, number];
}

/** Two plates of 60 × 50 × 5, one on the other, with holes for screws. */
function stack({
  quantity = 4,
  size = 'M3 × 16',
  base = four,
  lid = four,
  lidAt = [0, 0, 5],
  lidTurn = 0,
  baseAt = [0, 0, 0],
}: Stack): Promise<AssemblyReport> {
  const plate = (places: readonly Place[]) =>
    plateWithHoles(
      60,
      50,
      5,
      places.map(([x, y]) => ({ x, y, r: 1.7, sides: 48 })),
    );
  const holes = (count: number) =>
    `[{ id: hole, kind: bore, nominal_mm: 3.4, count: ${count}, mates: hardware/screw, clearance: medium }]`;
  return assembled(
    `parts:
  - { id: base, mesh: parts/base.stl, interfaces: ${holes(base.length)} }
  - { id: lid, mesh: parts/lid.stl, interfaces: ${holes(lid.length)} }
hardware:
  - { id: screw, title: Screw, quantity: ${quantity}, size: ${size} }
assembly:
  - { part: base, translate_mm: [${baseAt.join(', ')}] }
  - { part: lid, translate_mm: [${lidAt.join(', ')}], rotate: { axis: [0, 0, 1], degrees: ${lidTurn} } }
`,
    { 'base.stl': plate(base), 'lid.stl': plate(lid) },
  );
}

const rowsOf = async (given: Stack) => {
  const { hardware } = await stack(given);
  expect(hardware).toHaveLength(1);
  return hardware[0];
};

it('four screws through four bores of two plates: four rows of eight bores', async () => {
  expect(await rowsOf({})).toEqual({
    hardware: 'screw',
    quantity: 4,
    needed: 4,
    bores: 8,
    complete: true,
    strays: [],
  });
});

it('one bore of the pattern that is 1 mm off is named, and the others not', async () => {
  const moved: readonly Place[] = [...four.slice(0, 3), [53, 38]];
  const { needed, strays } = await rowsOf({ lid: moved });
  expect(needed).toBe(5);
  expect(strays).toMatchObject([
    { a: { instance: 'base', interface: 'hole' }, b: { instance: 'lid', interface: 'hole' } },
  ]);
  expect(strays[0].offset_mm).toBeCloseTo(1, 4);
  expect(strays[0].angle_deg).toBeCloseTo(0, 4);
  // Enough screws for all bores do not make it right.
  expect((await rowsOf({ lid: moved, quantity: 8 })).strays).toHaveLength(1);
});

it('bores of one part alone have screws of their own, where there are enough', async () => {
  const three = four.slice(0, 3);
  const own: readonly Place[] = [...three, [46, 20]];
  const apart = { base: four, lid: own };
  expect(await rowsOf({ ...apart, quantity: 5 })).toMatchObject({ needed: 5, strays: [] });
  const few = await rowsOf({ ...apart, quantity: 4 });
  expect(few.needed).toBe(5);
  // (52, 38) and (46, 20) would have to share one: √(6² + 18²) mm apart.
  expect(few.strays).toHaveLength(1);
  expect(few.strays[0].offset_mm).toBeCloseTo(Math.sqrt(360), 4);
});

it('a row that is longer than its screw takes several', async () => {
  // The lid stands 20 mm above the base: from 5 to 25 mm there is nothing.
  const far = { lidAt: [0, 0, 25] as const };
  expect((await rowsOf({ ...far, size: 'M3 × 16' })).needed).toBe(8);
  expect((await rowsOf({ ...far, size: 'M3 × 25' })).needed).toBe(4);
  expect((await rowsOf({ ...far, size: 'M3' })).needed).toBe(4);
});

it('the law of motion: both plates moved together are the same rows', async () => {
  const still = await rowsOf({});
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: -200, max: 200 }),
      fc.integer({ min: -200, max: 200 }),
      async (x, z) => {
        expect(await rowsOf({ baseAt: [x, 0, z], lidAt: [x, 0, z + 5] })).toEqual(still);
      },
    ),
    { numRuns: 8 },
  );
});

it('a bore of the pattern that fell out of line is told of several screws as of one', async () => {
  const [fine, turned] = [await stack({}), await stack({ lidTurn: 4 })];
  expect(compareAssemblies(fine, turned).clearances.map(({ line }) => line)).toEqual(['left', 'left']);
  expect(compareAssemblies(turned, fine).clearances.map(({ line }) => line)).toEqual(['entered', 'entered']);
  expect(compareAssemblies(fine, fine).clearances).toEqual([]);
});

it('lengths as sizes are written', () => {
  expect(['M3 × 16', 'M2.5x8', 'M8 × 1 × 20', 'M4 × 4', 'M3x10.5'].map(screwLength)).toEqual([
    16, 8, 20, 4, 10.5,
  ]);
  // A pitch is no length.
  expect(['M3', 'M8 × 1', 'M3 × ', 'M3 × 0', '16', 'M3 × 1.2.3'].map(screwLength)).toEqual(
    Array(6).fill(null),
  );
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.string().map(text => `M3 × ${text}`),
      ),
      text => {
        const length = screwLength(text);
        expect(length === null || (Number.isFinite(length) && length > 0)).toBe(true);
      },
    ),
  );
});
