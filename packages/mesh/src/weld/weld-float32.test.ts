import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createFloat32Welder, float32Positions, weldFloat32, weldFloat32Batch } from './weld-float32.ts';

function weldAll(points: Float32Array, expected: number): { indices: number[]; positions: Float32Array } {
  const welder = createFloat32Welder(expected);
  const bits = new Int32Array(points.buffer, points.byteOffset, points.length);
  const indices: number[] = [];
  for (let i = 0; i < points.length; i += 3)
    indices.push(weldFloat32(welder, bits[i], bits[i + 1], bits[i + 2]));
  return { indices, positions: float32Positions(welder) };
}

describe('weldFloat32Batch', () => {
  it('numbers vertices as one call each would, batch after batch (property)', () => {
    const coordinate = fc.constantFrom(0, -0, 1, 2, 3, 1e-40, -5, 0.1);
    const batch = fc.array(fc.tuple(coordinate, coordinate, coordinate), { maxLength: 60 });
    fc.assert(
      fc.property(fc.array(batch), fc.nat(20), (batches, expected) => {
        const welder = createFloat32Welder(expected);
        const numbers: number[] = [];
        for (const points of batches) {
          const into = new Uint32Array(points.length + 2);
          weldFloat32Batch(
            welder,
            new Int32Array(Float32Array.from(points.flat()).buffer),
            points.length,
            into,
            2,
          );
          numbers.push(...into.subarray(2));
        }
        const single = weldAll(Float32Array.from(batches.flat(2)), expected);
        expect(numbers).toEqual(single.indices);
        expect(float32Positions(welder)).toEqual(single.positions);
      }),
    );
  });
});

describe('weldFloat32', () => {
  it('agrees with a map keyed by text, from any starting size (property)', () => {
    const coordinate = fc.constantFrom(0, -0, 1, 1.0000001, -1, 1e-40, 3e38, 0.1);
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate, coordinate)), fc.nat(20), (points, expected) => {
        const seen = new Map<string, number>();
        const flat = Float32Array.from(points.flat());
        const wanted: number[] = [];
        for (let i = 0; i < flat.length; i += 3) {
          const key = [...flat.subarray(i, i + 3)].map(x => x + 0).join();
          if (!seen.has(key)) seen.set(key, seen.size);
          wanted.push(seen.get(key)!);
        }
        const { indices, positions } = weldAll(flat, expected);
        expect(indices).toEqual(wanted);
        expect(positions.length).toBe(3 * seen.size);
      }),
    );
  });

  it('stays fast on grids of whole numbers, whose floats differ in few bits', () => {
    const side = 64;
    const points = new Float32Array(3 * side ** 3);
    for (let i = 0; i < side ** 3; i++) {
      points.set([i % side, Math.floor(i / side) % side, Math.floor(i / side ** 2)], 3 * i);
    }
    const welder = createFloat32Welder(side ** 3);
    const { seed } = welder;
    const bits = new Int32Array(points.buffer);
    for (let i = 0; i < bits.length; i += 3) weldFloat32(welder, bits[i], bits[i + 1], bits[i + 2]);
    expect(welder.count).toBe(side ** 3);
    // The seed changes only after a probe of hundreds of slots.
    expect(welder.seed).toBe(seed);
  });

  it('keeps the vertices when collisions make it change the seed', () => {
    const welder = createFloat32Welder(2000);
    welder.patience = 1;
    for (let i = 0; i < 2000; i++) expect(weldFloat32(welder, i, 0, 0)).toBe(i);
    expect(welder.patience).toBeGreaterThan(1);
    for (let i = 0; i < 2000; i++) expect(weldFloat32(welder, i, 0, 0)).toBe(i);
  });
});
