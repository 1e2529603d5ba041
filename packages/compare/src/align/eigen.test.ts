import fc from 'fast-check';
import { expect, it } from 'vitest';
import { symmetricEigen } from './eigen.ts';

it('gives the values of a matrix known in closed form: 2, −1 tridiagonal has 2 − 2·cos(kπ/(n+1))', () => {
  const n = 6;
  const matrix = Array.from({ length: n * n }, (_, i) => {
    const d = Math.abs(Math.floor(i / n) - (i % n));
    return d === 0 ? 2 : d === 1 ? -1 : 0;
  });
  symmetricEigen(matrix, n).values.forEach((v, i) => {
    expect(v).toBeCloseTo(2 - 2 * Math.cos(((n - i) * Math.PI) / (n + 1)), 12);
  });
});

it('A·v = λ·v for any symmetric matrix', () => {
  const entry = fc.double({ min: -100, max: 100, noNaN: true });
  fc.assert(
    fc.property(fc.array(entry, { minLength: 6, maxLength: 6 }), ([a, b, c, d, e, f]) => {
      const m = [a, b, c, b, d, e, c, e, f];
      const { values, vectors } = symmetricEigen(m, 3);
      vectors.forEach((v, k) => {
        for (let r = 0; r < 3; r += 1) {
          const product = m[3 * r] * v[0] + m[3 * r + 1] * v[1] + m[3 * r + 2] * v[2];
          expect(Math.abs(product - values[k] * v[r])).toBeLessThan(1e-10);
        }
        expect(Math.hypot(...v)).toBeCloseTo(1, 12);
      });
      expect(values[0]).toBeGreaterThanOrEqual(values[2]);
    }),
  );
});
