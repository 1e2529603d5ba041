import type { Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { meshBuilder, type MeshBuilder } from '../../../mesh/src/testing/builder.ts';
import { deviation } from './deviation.ts';

/** A level rectangle of quads with the given corner coordinates, less the cells that `open` names. */
function sheet(
  m: MeshBuilder,
  xs: readonly number[],
  ys: readonly number[],
  z: number,
  open: (x: number, y: number) => boolean = () => false,
): void {
  for (let i = 0; i + 1 < xs.length; i++) {
    for (let j = 0; j + 1 < ys.length; j++) {
      if (open(xs[i], ys[j])) continue;
      const corners = [
        [xs[i], ys[j]],
        [xs[i + 1], ys[j]],
        [xs[i + 1], ys[j + 1]],
        [xs[i], ys[j + 1]],
      ].map(([x, y]) => m.vertex(x, y, z));
      m.quad(corners[0], corners[1], corners[2], corners[3]);
    }
  }
}
const steps = (from: number, to: number, count: number) =>
  Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count);

/** That the greatest distance is bracketed, and as closely as asked. */
function expectMaximum(before: Mesh, after: Mesh, exact: number): void {
  const d = deviation(before, after, { tolerance_mm: 1e-3 }).deviation;
  if (d === null) throw new Error('no deviation');
  expect(d.max_mm).toBeLessThanOrEqual(exact * (1 + 1e-12));
  expect(d.max_mm + d.max_error_mm).toBeGreaterThanOrEqual(exact * (1 - 1e-12));
  expect(d.max_error_mm).toBeLessThanOrEqual(1.0001e-3);
}

describe('a maximum between the samples', () => {
  it('over a hole in the other surface, under a face much larger than it', () => {
    for (const turned of [false, true]) {
      const plain = meshBuilder();
      sheet(plain, turned ? [10, 0] : [0, 10], [0, 10], 0);
      const holed = meshBuilder();
      sheet(holed, steps(0, 10, 10), steps(0, 10, 10), 0, (x, y) => x === 6 && y === 2);
      expectMaximum(plain.mesh(), holed.mesh(), 0.5);
    }
  });

  it('over a hole much larger than the faces', () => {
    const plain = meshBuilder();
    sheet(plain, steps(0, 10, 14), steps(0, 10, 13), 0);
    const holed = meshBuilder();
    sheet(holed, steps(0, 10, 10), steps(0, 10, 10), 0, (x, y) => x >= 3 && x < 7 && y >= 4 && y < 8);
    expectMaximum(plain.mesh(), holed.mesh(), 2);
  });

  it('over the gap between two sheets that are folded back on themselves, whichever way they face', () => {
    for (const facing of ['consistent', 'flipped']) {
      const plain = meshBuilder();
      sheet(plain, [-4.95, 14.83], [-4.95, 14.91], 0);
      const folded = meshBuilder();
      // Each sheet has its fold at the gap, so that no edge over the face lacks a neighbor.
      for (const [fold, end] of [
        [4, -5],
        [6, 15],
      ]) {
        const [a, b] = [folded.vertex(fold, -5, 0), folded.vertex(fold, 15, 0)];
        const leaf = (lift: number) => [folded.vertex(end, 15, lift), folded.vertex(end, -5, lift)] as const;
        folded.quad(a, b, ...leaf(0));
        if (facing === 'flipped') folded.quad(a, b, ...leaf(1e-9));
        else folded.quad(b, a, leaf(1e-9)[1], leaf(1e-9)[0]);
      }
      expectMaximum(plain.mesh(), folded.mesh(), 1);
    }
  });
});
