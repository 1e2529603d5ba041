import { buildTree } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { torus } from '../../../mesh/src/testing/shapes.ts';
import { deviationRange, mergeParts, type DeviationTask } from './deviation-range.ts';
import { quantile } from './distribution.ts';
import { orientedNeighbors } from './neighbors.ts';
import { emptyVertexDistances, measureVertices, usedVertices } from './vertex-distances.ts';

describe('deviationRange', () => {
  it('gives the same over two ranges, each with its own state, as over one', () => {
    const from = buildTree(torus(10, 4, 40, 30));
    const to = buildTree(torus(10, 4, 37, 26));
    const skip = new Uint8Array(from.size);
    const atVertices = emptyVertexDistances(from);
    const wanted = usedVertices(from, skip);
    const half = wanted.length >> 1;
    const farthest = [
      measureVertices(from, to, wanted, 0, half, atVertices),
      measureVertices(from, to, wanted, half, wanted.length, atVertices),
    ].map(vertex => atVertices.distance[vertex]);
    const task: DeviationTask = {
      from,
      to,
      neighbors: orientedNeighbors(to),
      skip,
      atVertices,
      low: Math.max(...farthest),
      tolerance_mm: 0.01,
      epsilon_mm: 1e-3,
      fineness: { coarsest_mm2: 0.2, finest_mm2: 0.02, error_mm2: 1e-3 },
      budget: { integral: 20_000, pieces: 100_000 },
    };
    const changedOnce = new Uint8Array(from.size);
    const changedTwice = new Uint8Array(from.size);
    const once = deviationRange(task, 0, from.size, changedOnce);
    const middle = from.size >> 1;
    const twice = mergeParts(
      deviationRange(task, 0, middle, changedTwice),
      deviationRange(task, middle, from.size, changedTwice),
    );
    expect(changedTwice).toEqual(changedOnce);
    expect(once.exhausted || twice.exhausted).toBe(false);
    expect(twice.area).toBeCloseTo(once.area, 9);
    expect(Math.abs(twice.distance / once.distance - 1)).toBeLessThan(0.01);
    expect(Math.abs(quantile(twice.distribution, 0.95) / quantile(once.distribution, 0.95) - 1)).toBeLessThan(
      0.01,
    );
    expect(Math.abs(twice.bounds.low - once.bounds.low)).toBeLessThanOrEqual(1e-3);
    for (const part of [once, twice]) {
      expect(part.bounds.high).toBeGreaterThan(0);
      expect(part.bounds.high - part.bounds.low).toBeLessThanOrEqual(1.0001e-3);
    }
  });
});
