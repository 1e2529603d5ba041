import fc from 'fast-check';
import { expect, it } from 'vitest';
import { determinant3, multiply3, transpose3 } from './placement.ts';
import { angleAxis, axisRotations, nearestRotation, rotationOf, smallestRotation, unit } from './rotation.ts';

const part = fc.double({ min: -1, max: 1, noNaN: true });
const direction = fc
  .tuple(part, part, part)
  .filter(v => Math.hypot(...v) > 0.1)
  .map(v => unit(v) ?? ([1, 0, 0] as const));

it('angle and axis come back from the matrix they made', () => {
  fc.assert(
    fc.property(direction, fc.double({ min: 0.001, max: Math.PI, noNaN: true }), (axis, angle) => {
      const found = angleAxis(rotationOf([axis[0] * angle, axis[1] * angle, axis[2] * angle]));
      expect(found.angle).toBeCloseTo(angle, 9);
      // At a half turn both senses of the axis are right.
      const along = axis.reduce((s, a, k) => s + a * (found.axis?.[k] ?? 0), 0);
      expect(angle > Math.PI - 1e-6 ? Math.abs(along) : along).toBeCloseTo(1, 6);
    }),
  );
});

it('the smallest rotation takes one direction to the other by the angle between them', () => {
  fc.assert(
    fc.property(direction, direction, (a, b) => {
      const r = smallestRotation(a, b);
      const image = [0, 1, 2].map(k => r[3 * k] * a[0] + r[3 * k + 1] * a[1] + r[3 * k + 2] * a[2]);
      image.forEach((v, k) => expect(v).toBeCloseTo(b[k], 9));
      const between = Math.acos(Math.max(-1, Math.min(1, a[0] * b[0] + a[1] * b[1] + a[2] * b[2])));
      expect(angleAxis(r).angle).toBeCloseTo(between, 6);
    }),
  );
  expect(angleAxis(smallestRotation([0, 0, 1], [0, 0, -1])).angle).toBeCloseTo(Math.PI, 12);
});

it('there are 24 rotations of a cube, all different', () => {
  expect(axisRotations).toHaveLength(24);
  expect(new Set(axisRotations.map(r => r.join())).size).toBe(24);
  expect(axisRotations.every(r => determinant3(r) === 1)).toBe(true);
});

it('rounding is taken out of a rotation', () => {
  const exact = rotationOf([0.3, -0.8, 1.1]);
  const noisy = exact.map((v, k) => v + 1e-6 * Math.sin(k));
  const r = nearestRotation(noisy);
  const product = multiply3(r, transpose3(r));
  product.forEach((v, k) => expect(v).toBeCloseTo(k % 4 === 0 ? 1 : 0, 13));
  r.forEach((v, k) => expect(Math.abs(v - exact[k])).toBeLessThan(2e-6));
});
