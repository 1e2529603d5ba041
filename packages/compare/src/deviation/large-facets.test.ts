import { buildTree, closestHit, closestPoint, type Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { meshBuilder } from '../../../mesh/src/testing/builder.ts';
import { randomFrom } from '../../../mesh/src/testing/motions.ts';
import { deviation } from './deviation.ts';

const size = 20;

/** A closed block whose top is cut into n × n squares, each at the height that `top` gives. */
function block(n: number, top: (i: number, j: number) => number): Mesh {
  const m = meshBuilder();
  const at = (i: number) => (size * i) / n;
  const upper = Array.from({ length: n + 1 }, (_, i) =>
    Array.from({ length: n + 1 }, (__, j) => m.vertex(at(i), at(j), top(i, j))),
  );
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) m.quad(upper[i][j], upper[i + 1][j], upper[i + 1][j + 1], upper[i][j + 1]);
  }
  // The walls, fans from the corners of the bottom to the cut edges of the top.
  const low = [
    m.vertex(0, 0, 0),
    m.vertex(size, 0, 0),
    m.vertex(size, size, 0),
    m.vertex(0, size, 0),
  ] as const;
  m.quad(low[3], low[2], low[1], low[0]);
  const rims = [
    upper.map(row => row[0]),
    upper[n],
    upper.map(row => row[n]).reverse(),
    [...upper[0]].reverse(),
  ];
  rims.forEach((rim, side) => {
    const start = low[side];
    const end = low[(side + 1) % 4];
    for (let i = 0; i < n; i++) m.triangle(start, rim[i + 1], rim[i]);
    m.triangle(start, end, rim[n]);
  });
  return m.mesh();
}

/** A closed cone over a many-cornered base, which is cut into a fan from the corner `hub`. */
function cone(corners: number, turn: number, hub: number): Mesh {
  const m = meshBuilder();
  const apex = m.vertex(0, 0, 10);
  const rim = Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * (i + turn)) / corners;
    return m.vertex(20 * Math.cos(angle), 20 * Math.sin(angle), 0);
  });
  for (let i = 0; i < corners; i++) m.triangle(rim[i], rim[(i + 1) % corners], apex);
  for (let i = 1; i < corners - 1; i++)
    m.triangle(rim[hub], rim[(hub + i + 1) % corners], rim[(hub + i) % corners]);
  return m.mesh();
}

function greatestSampled(from: Mesh, to: Mesh, perFace: number, seed: number): number {
  const random = randomFrom(seed);
  const tree = buildTree(to);
  const hit = closestHit();
  let most = 0;
  for (let corner = 0; corner < from.triangles.length; corner += 3) {
    const [a, b, c] = from.triangles.subarray(corner, corner + 3);
    for (let n = 0; n < perFace; n++) {
      const u = Math.sqrt(random());
      const v = random();
      const [x, y, z] = [0, 1, 2].map(
        k =>
          (1 - u) * from.positions[3 * a + k] +
          u * (1 - v) * from.positions[3 * b + k] +
          u * v * from.positions[3 * c + k],
      );
      closestPoint(tree, x, y, z, hit);
      most = Math.max(most, Math.sqrt(hit.distanceSq));
    }
  }
  return most;
}

function bracket(before: Mesh, after: Mesh): { low: number; high: number } {
  const d = deviation(before, after, { tolerance_mm: 1e-3 }).deviation;
  if (d === null) throw new Error('no deviation');
  expect(d.max_error_mm).toBeLessThanOrEqual(1.0001e-3);
  return { low: d.max_mm, high: d.max_mm + d.max_error_mm };
}

describe('a large facet over thousands of small ones', () => {
  const plain = block(1, () => 10);

  it('is proven to coincide with them', () => {
    const fine = block(200, () => 10);
    const result = deviation(plain, fine, { tolerance_mm: 1e-3 });
    expect(result.deviation?.max_mm).toBeLessThan(1e-12);
    expect(result.deviation?.max_error_mm).toBeLessThan(1e-9);
    expect([...result.changedBefore, ...result.changedAfter].every(flag => flag === 0)).toBe(true);
  });

  it('has its greatest distance told to the error aimed at where they are rough, and over a dent', () => {
    const random = randomFrom(11);
    const rough = block(200, () => 10 + 0.004 * random());
    const found = bracket(plain, rough);
    expect(found.high).toBeGreaterThanOrEqual(
      Math.max(greatestSampled(plain, rough, 2000, 1), greatestSampled(rough, plain, 1, 2)),
    );
    // A pit of square outline: its floor lies 0.5 below.
    const dented = block(200, (i, j) => (i > 120 && i < 140 && j > 37 && j < 60 ? 9.5 : 10));
    const pit = bracket(plain, dented);
    expect(pit.low).toBeLessThanOrEqual(0.5 + 1e-12);
    expect(pit.high).toBeGreaterThanOrEqual(0.5 - 1e-12);
  });

  it('is told from slivers that cross it by the hundred', () => {
    const a = cone(700, 0, 0);
    const b = cone(740, 0.3, 200);
    const found = bracket(a, b);
    // Every rim lies between its chords and the circle around it.
    const sagitta = 20 * (1 - Math.cos(Math.PI / 700));
    expect(found.low).toBeLessThanOrEqual(sagitta + 1e-12);
    expect(found.high).toBeGreaterThanOrEqual(
      Math.max(greatestSampled(a, b, 8, 3), greatestSampled(b, a, 8, 4)),
    );
  });
});
