import { describe, expect, it } from 'vitest';
import { addTo, distribution, stepMeans } from './distribution.ts';

describe('stepMeans', () => {
  it('tells the means of equal shares of the weight', () => {
    const d = distribution(4, 10);
    for (const [value, weight] of [
      [1, 1],
      [2, 2],
      [3, 1],
    ])
      addTo(d, value, weight);
    expect(stepMeans(d, 2).map(m => Math.round(1e9 * m) / 1e9)).toEqual([1.5, 2.5]);
    expect(stepMeans(d, 4).map(m => Math.round(1e9 * m) / 1e9)).toEqual([1, 2, 2, 3]);
  });

  it('keeps the mean of values between places, and holds what lies beyond at the end', () => {
    const d = distribution(4, 10);
    addTo(d, 1.234, 3);
    expect(stepMeans(d, 1)[0]).toBeCloseTo(1.234, 12);
    addTo(d, 99, 3);
    expect(stepMeans(d, 2)[1]).toBeCloseTo(4, 12);
  });

  it('always tells as many as asked for', () => {
    const d = distribution(4, 10);
    for (let k = 0; k < 7; k++) addTo(d, k / 3, 0.1);
    expect(stepMeans(d, 8)).toHaveLength(8);
  });
});
