import { expect, it } from 'vitest';
import { sampleSurface } from './samples.ts';
import { describeSurface, type Surface } from './surface.ts';
import { box } from './testing/parts.ts';

/** A large square of two faces beside a hundred tiny ones. */
function uneven(): Surface {
  const positions = [0, 0, 0, 100, 0, 0, 100, 100, 0, 0, 100, 0];
  const triangles = [0, 1, 2, 0, 2, 3];
  for (let k = 0; k < 100; k += 1) {
    const v = positions.length / 3;
    positions.push(200 + k, 0, 0, 200.5 + k, 0, 0, 200 + k, 0.5, 0);
    triangles.push(v, v + 1, v + 2);
  }
  const surface = describeSurface({
    positions: Float64Array.from(positions),
    triangles: Uint32Array.from(triangles),
  });
  if (surface === null) throw new Error('no surface');
  return surface;
}

it('every face is seen, however small, and the weights make up for it', () => {
  const surface = uneven();
  const { count, faces, areaWeight } = sampleSurface(surface, 2000);
  expect(new Set(faces).size).toBe(102);
  let large = 0;
  let all = 0;
  for (let k = 0; k < count; k += 1) {
    all += areaWeight[k];
    if (faces[k] < 2) large += areaWeight[k];
  }
  // 10 000 mm² of 10 012.5 mm².
  expect(large / all).toBeCloseTo(10_000 / 10_012.5, 3);
});

it('any beginning is spread over the whole, and the points lie on their faces', () => {
  const surface = describeSurface(box(10, 10, 10));
  if (surface === null) throw new Error('no surface');
  const samples = sampleSurface(surface, 1200);
  const counts = new Array<number>(12).fill(0);
  for (let k = 0; k < 240; k += 1) {
    counts[samples.faces[k]] += 1;
    const n = samples.normals.subarray(3 * k, 3 * k + 3);
    const p = samples.points.subarray(3 * k, 3 * k + 3);
    const level = n[0] * p[0] + n[1] * p[1] + n[2] * p[2];
    expect(Math.abs(level) < 1e-9 || Math.abs(level - 10) < 1e-9).toBe(true);
  }
  // 20 expected per face; 4 σ of a binomial is 17.
  expect(Math.min(...counts)).toBeGreaterThan(3);
});
