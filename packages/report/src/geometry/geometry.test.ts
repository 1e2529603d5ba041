import type { Mesh } from '@kinprint/mesh';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ball, box, nothing } from '../pictures/testing/shapes.ts';
import { packMeshes } from './pack.ts';
import { movedAtMost } from './packed.ts';
import { unpackMeshes } from './unpack.ts';
import { numberReader, numberWriter } from './varint.ts';

/** Corners of all faces, one after the other. */
const corners = ({ positions, triangles }: Mesh): number[] =>
  [...triangles].flatMap(v => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]]);

const anyNumber = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: -200, max: 200, noNaN: true }) },
  { weight: 1, arbitrary: fc.double() },
);
const anyMesh = fc
  .array(fc.tuple(anyNumber, anyNumber, anyNumber), { minLength: 1, maxLength: 40 })
  .chain(points =>
    fc.record({
      positions: fc.constant(Float64Array.from(points.flat())),
      triangles: fc
        .array(fc.nat(points.length - 1), { maxLength: 90 })
        .map(list => Uint32Array.from(list.slice(0, list.length - (list.length % 3)))),
    }),
  );
const isPlace = (v: number): boolean => Math.abs(v) < 1e30;

describe('packed meshes', () => {
  it('come back face by face, every corner within the stated distance; faces without a place are counted', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(anyMesh, { maxLength: 4 }),
        fc.constantFrom(1e-3, 1e-4, 0.3, 0, NaN, Infinity),
        async (meshes, wished_mm) => {
          const packed = packMeshes(meshes, wished_mm);
          const again = await unpackMeshes(packed);
          expect(again).toHaveLength(meshes.length);
          meshes.forEach((mesh, k) => {
            const all = corners(mesh);
            const faces = Array.from({ length: all.length / 9 }, (_, f) => all.slice(9 * f, 9 * f + 9));
            const kept = faces.filter(face => face.every(isPlace));
            expect(packed.meshes[k].left_out).toBe(faces.length - kept.length);
            const expected = kept.flat();
            const got = corners(again[k]);
            expect(got).toHaveLength(expected.length);
            for (let c = 0; c < got.length; c += 3) {
              const off = Math.hypot(...[0, 1, 2].map(axis => got[c + axis] - expected[c + axis]));
              expect(off).toBeLessThanOrEqual(movedAtMost(packed) * (1 + 1e-9));
            }
          });
        },
      ),
    );
  });

  it('keep the step that was wished, or a finer one, for parts of any usual size', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 2000, noNaN: true }),
        fc.double({ min: -5000, max: 5000, noNaN: true }),
        (size, at) => {
          const mesh = box([at, at, at], [at + size, at + size / 2, at + size / 3]);
          const wished_mm = Math.max(1e-3, 1e-6 * size);
          const { step_mm } = packMeshes([mesh], wished_mm);
          expect(step_mm).toBeLessThanOrEqual(wished_mm);
          expect(step_mm).toBeGreaterThan(wished_mm / 2.001);
        },
      ),
    );
  });

  it('leave coordinates as they are that are on the lattice: sums of powers of two', async () => {
    const mesh = box([-12.5, 3.25, 0], [20.125, 8, 4.0625]);
    const [again] = await unpackMeshes(packMeshes([mesh], 1e-3));
    expect(corners(again)).toEqual(corners(mesh));
  });

  it('take few bytes: a ball of 20 000 faces in less than a third of what its binary STL takes', () => {
    const mesh = ball(30, 142);
    expect(mesh.triangles.length / 3).toBeGreaterThan(19_000);
    const { data } = packMeshes([mesh], 1e-3);
    expect(data.length).toBeLessThan((50 * mesh.triangles.length) / 3 / 3);
  });

  it('may be none, or empty', async () => {
    expect(await unpackMeshes(packMeshes([], 1e-3))).toEqual([]);
    expect((await unpackMeshes(packMeshes([nothing], 1e-3)))[0].triangles).toHaveLength(0);
  });

  it('that were damaged are refused: never other shapes, never more memory than their own size says', async () => {
    const packed = packMeshes([ball(5, 12)], 1e-3);
    const refused: [string, typeof packed][] = [
      ['cut short', { ...packed, data: packed.data.slice(0, 40) }],
      ['not base64', { ...packed, data: '<script>' }],
      ['too few', { ...packed, meshes: [{ ...packed.meshes[0], triangles: 10 }] }],
      ['too many', { ...packed, meshes: [{ ...packed.meshes[0], vertices: 5000 }] }],
      ['swollen', { ...packed, meshes: [{ vertices: 1, triangles: 0, left_out: 0 }] }],
    ];
    for (const [name, damaged] of refused) await expect(unpackMeshes(damaged), name).rejects.toThrow();
  });
});

describe('numbers', () => {
  it('come back as they were written', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 })),
        fc.array(fc.nat(2 ** 32 - 1)),
        (signed, unsigned) => {
          const out = numberWriter();
          signed.forEach(value => out.signed(value));
          unsigned.forEach(value => out.unsigned(value));
          const back = numberReader(out.bytes());
          expect(signed.map(() => back.signed())).toEqual(signed);
          expect(unsigned.map(() => back.unsigned())).toEqual(unsigned);
          expect(back.atEnd()).toBe(true);
        },
      ),
    );
  });

  it('any bytes at all are numbers or an error', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 40 }), bytes => {
        const back = numberReader(bytes);
        try {
          for (let n = 0; n <= bytes.length && !back.atEnd(); n++) {
            const value = back.unsigned();
            expect(Number.isInteger(value) && value >= 0 && value < 2 ** 32).toBe(true);
          }
        } catch (error) {
          expect((error as Error).message).toMatch(/too early|too large/);
        }
      }),
    );
  });
});
