import { describe, expect, it } from 'vitest';
import { rotation } from '../testing/motions.ts';
import { harmonicCount, harmonicsAt, harmonicStarts } from './harmonics.ts';

const at = (v: readonly number[]): Float64Array => {
  const into = new Float64Array(harmonicCount);
  harmonicsAt(v[0] ?? 0, v[1] ?? 0, v[2] ?? 0, into);
  return into;
};
const unit = (v: readonly number[]): number[] => v.map(c => c / Math.hypot(...v));
const directions = [
  [1, 2, -0.5],
  [-3, 0.2, 0.7],
  [0.1, -1, 4],
].map(unit);

describe('harmonicsAt', () => {
  // Addition theorem: Σ Y(u) Y(v) over a degree is the Legendre polynomial of the angle's cosine.
  const legendre = [
    (c: number) => c,
    (c: number) => (3 * c * c - 1) / 2,
    (c: number) => (5 * c ** 3 - 3 * c) / 2,
  ];

  it.each([0, 1, 2])('meets the addition theorem (degree %i + 1)', degree => {
    for (const u of directions)
      for (const v of directions) {
        const [a, b] = [at(u), at(v)];
        let sum = 0;
        for (let k = harmonicStarts[degree]; k < harmonicStarts[degree + 1]; k++) sum += a[k] * b[k];
        const cosine = u.reduce((s, c, k) => s + c * v[k], 0);
        expect(sum).toBeCloseTo(legendre[degree](cosine), 12);
      }
  });

  it('keeps the sum of squares of two weighted directions when both are turned', () => {
    const turn = rotation(0.4, -1, 2, 0.3);
    const turned = directions.map(v => turn.map(row => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]));
    const power = (vs: readonly number[][]): number => {
      const [a, b] = [at(vs[0]), at(vs[1])];
      return Array.from({ length: 7 }, (_, k) => (2 * a[8 + k] + 3 * b[8 + k]) ** 2).reduce(
        (s, c) => s + c,
        0,
      );
    };
    expect(power(turned)).toBeCloseTo(power(directions), 11);
  });
});
