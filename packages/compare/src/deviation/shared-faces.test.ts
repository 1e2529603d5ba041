import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flipped, joined, randomFrom, shuffled, translated } from '../../../mesh/src/testing/motions.ts';
import { box, torus } from '../../../mesh/src/testing/shapes.ts';
import { soup } from '../../../mesh/src/testing/soup.ts';
import { sharedFaces } from './shared-faces.ts';

describe('sharedFaces', () => {
  it('finds all faces of a shuffled and turned copy, and those alone that a part keeps', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 60 }), (seed, n) => {
        const random = randomFrom(seed);
        const kept = soup(random, n);
        const others = soup(random, 10, 1000);
        const both = shuffled(joined(flipped(kept), others), random);
        const shared = sharedFaces(kept, both);
        expect(shared.count).toEqual({ before: n, after: n });
        expect(shared.before.every(flag => flag === 1)).toBe(true);
        expect(shared.after.filter(flag => flag === 1)).toHaveLength(n);
        both.triangles.forEach((vertex, i) => {
          // The others stand 1000 away.
          expect(shared.after[Math.floor(i / 3)]).toBe(both.positions[3 * vertex] > 500 ? 0 : 1);
        });
      }),
    );
  });

  it('compares 32-bit with 64-bit coordinates by value, −0 with 0, and never NaN', () => {
    const a = box(1, 2, 3);
    const b = { positions: Float32Array.from(a.positions, x => (x === 0 ? -0 : x)), triangles: a.triangles };
    expect(sharedFaces(a, b).count).toEqual({ before: 12, after: 12 });
    const broken = { positions: a.positions.map(() => NaN), triangles: a.triangles };
    expect(sharedFaces(broken, broken).count).toEqual({ before: 0, after: 0 });
  });

  it('tells faces apart by the last bit', () => {
    const a = torus(10, 3, 20, 10);
    const b = translated(a, [0, 0, 0]);
    b.positions[0] += 2 ** -45;
    expect(sharedFaces(a, b).count).toEqual({ before: 394, after: 394 });
  });
});
