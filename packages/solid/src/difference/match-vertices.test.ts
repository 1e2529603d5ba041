import fc from 'fast-check';
import { expect, it } from 'vitest';
import { matchVertices } from './match-vertices.ts';

/** The slow way: nearest within the radius; the nearer claim wins, then the earlier. */
function judge(before: Float64Array, after: Float64Array, radius: number): number[] {
  const claims = Array.from({ length: before.length / 3 }, (_, v) => {
    let best = { to: -1, d: radius * radius };
    for (let w = 0; w < after.length / 3; w++) {
      const d = [0, 1, 2].reduce((sum, k) => sum + (before[3 * v + k] - after[3 * w + k]) ** 2, 0);
      if (d < best.d || (d === best.d && best.to < 0)) best = { to: w, d };
    }
    return best;
  });
  return claims.map(({ to, d }, v) => {
    const beaten = claims.some((other, u) => other.to === to && (other.d < d || (other.d === d && u < v)));
    return to < 0 || beaten ? -1 : to;
  });
}

it('agrees with trying every pair', () => {
  const points = fc.array(fc.integer({ min: -3, max: 3 }), { minLength: 3, maxLength: 120 });
  fc.assert(
    fc.property(points, points, fc.constantFrom(0, 1e-300, 0.5, 1.5, 3), (p, q, radius) => {
      const before = Float64Array.from(p.slice(0, p.length - (p.length % 3)));
      const after = Float64Array.from(q.slice(0, q.length - (q.length % 3)), x => x + 0.25);
      expect([...matchVertices(before, after, radius)]).toEqual(judge(before, after, radius));
    }),
  );
});

it('pairs equal points at radius 0, and nothing with nothing', () => {
  const points = Float64Array.of(1, 2, 3, -4, 5, 6);
  expect([...matchVertices(points, points.slice().reverse(), 0)]).toEqual([-1, -1]);
  expect([...matchVertices(points, points, 0)]).toEqual([0, 1]);
  expect([...matchVertices(points, new Float64Array(0), 1)]).toEqual([-1, -1]);
});
