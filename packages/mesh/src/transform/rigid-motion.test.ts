import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { rotation } from '../testing/motions.ts';
import { movedDirection, movedPoint, rigidMotion } from './rigid-motion.ts';
import { linearDeterminant } from './transform-mesh.ts';

const coordinate = fc.double({ min: -100, max: 100, noNaN: true });
const vector = fc.tuple(coordinate, coordinate, coordinate);
const axis = vector.filter(v => Math.hypot(...v) > 1e-3);

describe('rigidMotion', () => {
  it('turns a quarter about z exactly, then shifts', () => {
    const quarter = rigidMotion({ axis: [0, 0, 5], degrees: 90 }, [10, 20, 30]);
    expect(movedPoint(quarter, [1, 2, 3])).toEqual([8, 21, 33]);
    expect(movedDirection(quarter, [1, 0, 0])).toEqual([0, 1, 0]);
    expect(movedPoint(rigidMotion({ axis: [0, 0, 0], degrees: 90 }, [1, 1, 1]), [1, 2, 3])).toEqual([
      2, 3, 4,
    ]);
  });

  it('is the rotation by the quaternion of half the angle (w = cos, v = sin · axis)', () => {
    fc.assert(
      fc.property(axis, fc.double({ min: -720, max: 720, noNaN: true }), vector, (about, degrees, p) => {
        const length = Math.hypot(...about);
        const half = (degrees * Math.PI) / 360;
        const [x, y, z] = about.map(v => (Math.sin(half) * v) / length);
        const expected = rotation(Math.cos(half), x, y, z).map(
          row => row[0] * p[0] + row[1] * p[1] + row[2] * p[2],
        );
        const motion = rigidMotion({ axis: about, degrees }, [0, 0, 0]);
        movedPoint(motion, p).forEach((v, k) => expect(v).toBeCloseTo(expected[k], 9));
        expect(linearDeterminant(motion)).toBeCloseTo(1, 12);
      }),
    );
  });
});
