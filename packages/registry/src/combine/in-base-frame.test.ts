import { movedDirection, movedPoint, rigidMotion, type Vec3 } from '@kinprint/mesh';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { partInBaseFrame, placementInBaseFrame } from './in-base-frame.ts';

const coordinate = fc.double({ min: -200, max: 200, noNaN: true });
const vector: fc.Arbitrary<Vec3> = fc.tuple(coordinate, coordinate, coordinate);
const axis = vector.filter(v => Math.hypot(...v) > 1);
const motion = fc
  .tuple(axis, fc.double({ min: -180, max: 180, noNaN: true }), vector)
  .map(([about, degrees, by]) => rigidMotion({ axis: about, degrees }, by));

const near = (p: Vec3 | undefined, q: Vec3, within: number) => {
  expect(p).toBeDefined();
  for (const k of [0, 1, 2] as const) expect(Math.abs(p![k] - q[k])).toBeLessThanOrEqual(within);
};

describe('what a moved remix says of a part, in the frame of the base', () => {
  it('an interface declared on a moved mesh comes back, and is the base’s where it was not changed', () => {
    fc.assert(
      fc.property(motion, vector, axis, vector, (there, at, along, other) => {
        const base = {
          id: 'shell',
          mesh: 'a.stl',
          interfaces: [{ id: 'hinge', kind: 'bore', at_mm: at, axis: along }],
        } as const;
        const moved = {
          ...base,
          interfaces: [
            { ...base.interfaces[0], at_mm: movedPoint(there, at), axis: movedDirection(there, along) },
            { id: 'new', kind: 'pin', at_mm: movedPoint(there, other) },
          ],
        } as const;
        // The motion to the base is the inverse of the one there: tell it by where it takes four points.
        const back = inverseByPoints(there);
        const part = partInBaseFrame(moved, base, back);
        expect(part.interfaces?.[0]).toEqual(base.interfaces[0]);
        near(part.interfaces?.[1].at_mm, other, 1e-5);
      }),
      { numRuns: 100 },
    );
  });

  it('a placement of a moved mesh puts the carried mesh where it put the moved one', () => {
    fc.assert(
      fc.property(
        motion,
        motion,
        vector,
        axis,
        fc.double({ min: -180, max: 180, noNaN: true }),
        vector,
        (there, _, by, about, degrees, point) => {
          const placement = { part: 'shell', translate_mm: by, rotate: { axis: about, degrees } };
          const carried = placementInBaseFrame(placement, undefined, inverseByPoints(there));
          const wanted = movedPoint(rigidMotion(placement.rotate, by), movedPoint(there, point));
          const got = movedPoint(
            rigidMotion(carried.rotate ?? null, carried.translate_mm ?? [0, 0, 0]),
            point,
          );
          // Axis and angle are rounded to six decimals: some 1e-6 of 350 mm.
          near(got, wanted, 2e-3);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('the way up turns with the mesh, and stays the base’s where it turns askew', () => {
    const quarter = rigidMotion({ axis: [1, 0, 0], degrees: 90 }, [0, 0, 0]);
    const part = { id: 'shell', mesh: 'a.stl', print: { up: 'z', walls: 3 } } as const;
    const up = (toBase: typeof quarter, base?: 'x') =>
      partInBaseFrame(part, base && { ...part, print: { up: base } }, toBase).print;
    expect(up(quarter)).toEqual({ up: '-y', walls: 3 });
    expect(up(rigidMotion({ axis: [1, 0, 0], degrees: 30 }, [0, 0, 0]), 'x')).toEqual({ up: 'x', walls: 3 });
  });
});

/** The inverse of a motion, from its columns: a turn's inverse is its transpose. */
function inverseByPoints(motion: ReturnType<typeof rigidMotion>) {
  const columns = [0, 1, 2].map(k => movedDirection(motion, [+(k === 0), +(k === 1), +(k === 2)]));
  const shift = movedPoint(motion, [0, 0, 0]);
  const row = (k: number) => {
    const [x, y, z] = columns[k];
    return [x, y, z, -(x * shift[0] + y * shift[1] + z * shift[2])] as const;
  };
  return [row(0), row(1), row(2), [0, 0, 0, 1]] as const;
}
