import fc from 'fast-check';
import { area, buildTree, closestHit, closestPoint, type Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { moved, randomFrom, rotation, shuffled, translated } from '../../../mesh/src/testing/motions.ts';
import { box, icosphere, torus } from '../../../mesh/src/testing/shapes.ts';
import { soup } from '../../../mesh/src/testing/soup.ts';
import { deviation } from './deviation.ts';
import { surfacePoints } from './matched-share.ts';

const tolerance_mm = 1e-3;

/** Greatest distance of dense random points of `from` from `to`, and how many faces of `from` exceed the tolerance. */
function sampled(
  from: Mesh,
  to: Mesh,
  random: () => number,
  perFace: number,
): { max: number; beyond: Set<number> } {
  const tree = buildTree(to);
  const hit = closestHit();
  let max = 0;
  const beyond = new Set<number>();
  for (let face = 0; face < from.triangles.length / 3; face++) {
    const at = [0, 1, 2].map(k => 3 * from.triangles[3 * face + k]);
    for (let n = 0; n < perFace; n++) {
      let [u, v] = [random(), random()];
      if (u + v > 1) [u, v] = [1 - u, 1 - v];
      if (n % 4 === 0) v = 0;
      const [x, y, z] = [0, 1, 2].map(
        k =>
          from.positions[at[0] + k] +
          u * (from.positions[at[1] + k] - from.positions[at[0] + k]) +
          v * (from.positions[at[2] + k] - from.positions[at[0] + k]),
      );
      closestPoint(tree, x, y, z, hit);
      const d = Math.sqrt(hit.distanceSq);
      max = Math.max(max, d);
      if (d > tolerance_mm + 1e-9) beyond.add(face);
    }
  }
  return { max, beyond };
}

function check(before: Mesh, after: Mesh, random: () => number, perFace: number): void {
  const result = deviation(before, after, { tolerance_mm });
  const d = result.deviation;
  if (d === null) throw new Error('no deviation');
  const there = sampled(before, after, random, perFace);
  const back = sampled(after, before, random, perFace);
  const rounding = 1e-9 * (1 + d.max_mm);
  expect(Math.max(there.max, back.max)).toBeLessThanOrEqual(d.max_mm + d.max_error_mm + rounding);
  // The maximum is the distance of a real point of the surface it names.
  const hit = closestHit();
  const [from, to] = d.max_from === 'before' ? [before, after] : [after, before];
  closestPoint(buildTree(from), ...d.max_at_mm, hit);
  expect(Math.sqrt(hit.distanceSq)).toBeLessThanOrEqual(rounding);
  closestPoint(buildTree(to), ...d.max_at_mm, hit);
  expect(Math.abs(Math.sqrt(hit.distanceSq) - d.max_mm)).toBeLessThanOrEqual(rounding);
  for (const face of there.beyond) expect(result.changedBefore[face]).toBe(1);
  for (const face of back.beyond) expect(result.changedAfter[face]).toBe(1);
  expect(d.mean_mm).toBeLessThanOrEqual(d.rms_mm * (1 + 1e-9));
  expect(d.rms_mm).toBeLessThanOrEqual(d.max_mm * (1 + 1e-9));
  expect(d.p95_mm).toBeLessThanOrEqual(d.max_mm * (1 + 1e-9));
}

describe('the bound of the maximum', () => {
  it('is never exceeded by dense sampling, on random faces of every kind', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 12 }),
        fc.constantFrom(0, 1e3),
        (seed, n, m, offset) => {
          const random = randomFrom(seed);
          check(soup(random, n, offset), soup(random, m, offset), random, 200);
        },
      ),
      { numRuns: 12 },
    );
  });

  it('is never exceeded on two tessellations of one surface, nor on locally bent ones', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 8, max: 40 }),
        fc.integer({ min: 8, max: 40 }),
        (seed, n, m) => {
          const random = randomFrom(seed);
          const a = torus(10, 4, n, 12);
          check(a, moved(torus(10, 4, m, 17), rotation(random(), random(), random(), random())), random, 40);
          check(a, torus(10, 4, m, 17), random, 40);
          const positions = Float64Array.from(a.positions);
          for (let k = 0; k < 9; k++) positions[Math.floor(random() * positions.length)] += random();
          check(a, { positions, triangles: a.triangles }, random, 40);
        },
      ),
      { numRuns: 4 },
    );
  });

  it('proves two tessellations of one box to be the same, and reaches the error aimed at', () => {
    const coarse = box(10, 10, 10);
    const fine = subdivided(subdivided(subdivided(coarse)));
    const result = deviation(coarse, fine, { tolerance_mm });
    expect(result.deviation?.max_mm).toBeLessThan(1e-14);
    expect(result.deviation?.max_error_mm).toBeLessThan(1e-9);
    expect([...result.changedBefore, ...result.changedAfter].every(flag => flag === 0)).toBe(true);
  });
});

describe('deviation', () => {
  it('of a mesh from itself is exactly 0, in any order of faces and vertices', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 50 }), (seed, n) => {
        const mesh = soup(randomFrom(seed), n);
        const result = deviation(mesh, shuffled(mesh, randomFrom(seed)), { tolerance_mm });
        expect(result.deviation).toMatchObject({
          max_mm: 0,
          max_error_mm: 0,
          mean_mm: 0,
          rms_mm: 0,
          p95_mm: 0,
        });
        expect([...result.changedBefore, ...result.changedAfter].every(flag => flag === 0)).toBe(true);
      }),
    );
  });

  it('has the mean and root mean square of dense random sampling where two tessellations differ by their facets', () => {
    // Here the corners lie on the designed surface and the points between them do not: a fixed rule is 10 % off.
    const before = torus(10, 4, 60, 30);
    const after = torus(10, 4, 67, 26);
    const sums = [0, 0, 0];
    for (const [from, to] of [
      [before, after],
      [after, before],
    ]) {
      const tree = buildTree(to);
      const hit = closestHit();
      const { points } = surfacePoints(from, 60_000);
      const share = area(from) / 60_000;
      for (let i = 0; i < points.length; i += 3) {
        closestPoint(tree, points[i], points[i + 1], points[i + 2], hit);
        sums[0] += share;
        sums[1] += share * Math.sqrt(hit.distanceSq);
        sums[2] += share * hit.distanceSq;
      }
    }
    const d = deviation(before, after, { tolerance_mm }).deviation;
    expect(Math.abs((d?.mean_mm ?? 0) / (sums[1] / sums[0]) - 1)).toBeLessThan(6e-3);
    expect(Math.abs((d?.rms_mm ?? 0) / Math.sqrt(sums[2] / sums[0]) - 1)).toBeLessThan(6e-3);
  });

  it('is the same both ways and after a common motion', () => {
    fc.assert(
      fc.property(fc.integer(), seed => {
        const random = randomFrom(seed);
        const a = icosphere(10, 2);
        const b = moved(torus(7, 4, 20, 12), rotation(random(), random(), random(), random()));
        const turn = rotation(random(), random(), random(), random());
        const shift = [100 * random(), -50 * random(), 0] as const;
        const d = deviation(a, b, { tolerance_mm }).deviation;
        const swapped = deviation(b, a, { tolerance_mm }).deviation;
        const turned = deviation(moved(a, turn, shift), moved(b, turn, shift), { tolerance_mm }).deviation;
        if (d === null || swapped === null || turned === null) throw new Error('no deviation');
        for (const other of [swapped, turned]) {
          expect(Math.abs(other.max_mm - d.max_mm)).toBeLessThanOrEqual(d.max_error_mm + other.max_error_mm);
          expect(Math.abs(other.mean_mm - d.mean_mm)).toBeLessThanOrEqual(2e-3 * d.mean_mm);
          expect(Math.abs(other.rms_mm - d.rms_mm)).toBeLessThanOrEqual(2e-3 * d.rms_mm);
        }
        expect(swapped.max_from).toBe(d.max_from === 'before' ? 'after' : 'before');
      }),
      { numRuns: 3 },
    );
  });

  it('finds a small change between faces that both meshes share', () => {
    const a = torus(10, 4, 60, 30);
    const positions = Float64Array.from(a.positions);
    positions[0] += 0.25;
    const result = deviation(a, { positions, triangles: a.triangles }, { tolerance_mm });
    expect(result.changedBefore.filter(flag => flag === 1)).toHaveLength(6);
    expect(result.changedAfter.filter(flag => flag === 1)).toHaveLength(6);
    expect(result.deviation?.max_mm).toBeGreaterThan(0.2);
    expect(result.deviation?.max_mm).toBeLessThanOrEqual(0.25);
    expect(result.deviation?.p95_mm).toBe(0);
  });

  it('has no value without faces, and leaves out faces that are not finite', () => {
    const none: Mesh = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    expect(deviation(none, box(1, 1, 1), { tolerance_mm }).deviation).toBeNull();
    expect(deviation(box(1, 1, 1), none, { tolerance_mm }).changedBefore.every(flag => flag === 1)).toBe(
      true,
    );
    expect(deviation(none, none, { tolerance_mm }).deviation).toBeNull();
    const positions = Float64Array.from(box(1, 1, 1).positions);
    positions[0] = NaN;
    const result = deviation({ positions, triangles: box(1, 1, 1).triangles }, box(1, 1, 1), {
      tolerance_mm,
    });
    expect(Number.isFinite(result.deviation?.max_mm)).toBe(true);
    expect(Number.isFinite(result.deviation?.mean_mm)).toBe(true);
  });

  it('reports the larger error when it may not work long enough', () => {
    const d = deviation(torus(10, 4, 40, 20), translated(torus(10, 4, 41, 21), [0.01, 0, 0]), {
      tolerance_mm,
      error_mm: 1e-13,
    }).deviation;
    expect(d?.max_error_mm).toBeGreaterThan(0);
    expect(d?.max_error_mm).toBeLessThan(0.1);
  });
});

/** Every face cut in four at the middles of its edges. */
function subdivided(mesh: Mesh): Mesh {
  const positions: number[] = [...mesh.positions];
  const triangles: number[] = [];
  const middles = new Map<string, number>();
  const middle = (a: number, b: number): number => {
    const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
    const known = middles.get(key);
    if (known !== undefined) return known;
    const made = positions.length / 3;
    for (let k = 0; k < 3; k++) positions.push((positions[3 * a + k] + positions[3 * b + k]) / 2);
    middles.set(key, made);
    return made;
  };
  for (let face = 0; face < mesh.triangles.length; face += 3) {
    const [a, b, c] = mesh.triangles.subarray(face, face + 3);
    const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
    triangles.push(a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
