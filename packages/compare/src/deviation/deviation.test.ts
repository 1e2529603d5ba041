import type { Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { meshBuilder } from '../../../mesh/src/testing/builder.ts';
import { translated } from '../../../mesh/src/testing/motions.ts';
import { box, icosphere } from '../../../mesh/src/testing/shapes.ts';
import { deviation } from './deviation.ts';

/** A plate `side` × `side` × `height` with a boss `w` × `w` × `k` in the middle of its top. */
function plateWithBoss(side: number, height: number, w: number, k: number): Mesh {
  const m = meshBuilder();
  const [low, high] = [(side - w) / 2, (side + w) / 2];
  const square = (a: number, b: number, z: number) =>
    [
      [a, a],
      [b, a],
      [b, b],
      [a, b],
    ].map(([x, y]) => m.vertex(x, y, z));
  const ground = square(0, side, 0);
  const rim = square(0, side, height);
  const foot = square(low, high, height);
  const top = square(low, high, height + k);
  m.polygon([...ground].reverse());
  m.polygon(top);
  for (let i = 0; i < 4; i++) {
    const j = (i + 1) % 4;
    m.quad(ground[i], ground[j], rim[j], rim[i]);
    m.quad(rim[i], rim[j], foot[j], foot[i]);
    m.quad(foot[i], foot[j], top[j], top[i]);
  }
  return m.mesh();
}

/** The faces in the plane z = 3. */
function withoutBoss(mesh: Mesh): Uint32Array {
  const faces = Array.from({ length: mesh.triangles.length / 3 }, (_, f) => [
    ...mesh.triangles.subarray(3 * f, 3 * f + 3),
  ]);
  return Uint32Array.from(
    faces.filter(face => face.every(vertex => mesh.positions[3 * vertex + 2] === 3)).flat(),
  );
}

/** Values from the definitions of the distances alone (see each case), recomputed numerically. */
describe('deviation of shapes with known answers', () => {
  const measured = (before: Mesh, after: Mesh) => {
    const result = deviation(before, after, { tolerance_mm: 1e-3 }).deviation;
    if (result === null) throw new Error('no deviation');
    expect(result.max_error_mm).toBeLessThanOrEqual(1.0001e-3);
    return result;
  };
  const within = (value: number, expected: number, relative: number) =>
    expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * expected);

  it('two concentric spheres: the difference of the radii everywhere', () => {
    const d = measured(icosphere(10, 5), icosphere(10.5, 5));
    within(d.max_mm, 0.5, 1e-9);
    within(d.mean_mm, 0.5, 1e-3);
    within(d.rms_mm, 0.5, 1e-3);
    within(d.p95_mm, 0.5, 2e-3);
  });

  it('two spheres, t apart: maximum t, mean t/2, root mean square t/√3, 95 % below 0.95 t', () => {
    const d = measured(icosphere(10, 5), translated(icosphere(10, 5), [1, 0, 0]));
    within(d.max_mm, 1, 1e-3);
    within(d.mean_mm, 0.5, 1e-3);
    within(d.rms_mm, 1 / Math.sqrt(3), 1e-3);
    within(d.p95_mm, 0.95, 2e-3);
  });

  it('a box shifted by t along x: closed integrals over its faces', () => {
    const t = 1;
    const edge = 10;
    const ends = edge ** 2 * t + (edge ** 2 * t - 2 * edge * t ** 2 + (4 * t ** 3) / 3) + 2 * edge * t ** 2;
    const squares =
      edge ** 2 * t ** 2 +
      2 * (edge ** 2 * (t ** 2 / 2) - 4 * edge * (t ** 3 / 3) + t ** 4) +
      (4 * edge * t ** 3) / 3;
    const d = measured(box(edge, edge, edge), translated(box(edge, edge, edge), [t, 0, 0]));
    within(d.max_mm, t, 1e-12);
    within(d.mean_mm, ends / 600, 1e-3);
    within(d.mean_mm, 0.3355555555556, 1e-3);
    within(d.rms_mm, Math.sqrt(squares / 600), 1e-3);
    within(d.rms_mm, 0.5607534613754, 1e-3);
  });

  it('a box grown by t on every side: t √3 at the corners', () => {
    const d = measured(box(10, 10, 10), translated(box(11, 11, 11), [-0.5, -0.5, -0.5]));
    within(d.max_mm, 0.5 * Math.sqrt(3), 1e-9);
    expect(d.max_from).toBe('after');
  });

  it('a boss on a plate: its height, though from the plain plate no point is farther than half its width', () => {
    const plain = box(20, 20, 3);
    const bossed = plateWithBoss(20, 3, 2, 2);
    const d = measured(plain, bossed);
    within(d.max_mm, 2, 1e-9);
    expect(d.max_from).toBe('after');
    const back = deviation(plain, bossed, { tolerance_mm: 1e-3 });
    // Under the boss the plain plate deviates, though all its corners lie on the other surface.
    expect(Math.max(...back.distanceBefore)).toBe(0);
    expect(back.changedBefore.filter(flag => flag === 1)).toHaveLength(2);
  });

  it('one direction alone: from the plain plate no point is farther than half the width of the boss', () => {
    // An open sheet, so that the other direction has nothing beyond it: the plate's top against the bossed top.
    const m = meshBuilder();
    m.quad(m.vertex(0, 0, 3), m.vertex(20, 0, 3), m.vertex(20, 20, 3), m.vertex(0, 20, 3));
    const bossed = plateWithBoss(20, 3, 2, 2);
    const sheet = { positions: bossed.positions, triangles: withoutBoss(bossed) };
    const d = measured(m.mesh(), sheet);
    expect(d.max_mm).toBeLessThanOrEqual(1 + 1e-12);
    expect(d.max_mm + d.max_error_mm).toBeGreaterThanOrEqual(1);
    expect(d.max_from).toBe('before');
  });

  it('a ball scaled about its middle: r |s − 1|', () => {
    const d = measured(icosphere(20, 4), icosphere(21, 4));
    within(d.max_mm, 1, 1e-9);
  });
});
