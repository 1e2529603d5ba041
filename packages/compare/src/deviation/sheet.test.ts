import fc from 'fast-check';
import { buildTree, closestHit, closestPoint, type Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { meshBuilder } from '../../../mesh/src/testing/builder.ts';
import { randomFrom } from '../../../mesh/src/testing/motions.ts';
import { torus } from '../../../mesh/src/testing/shapes.ts';
import { noBounds } from './bounds.ts';
import { orientedNeighbors } from './neighbors.ts';
import { createSheet } from './sheet.ts';

/** An n × n sheet of 10 × 10, uneven by up to `rough`, without the cells that `open` names. */
function uneven(
  n: number,
  rough: number,
  random: () => number,
  open: (i: number, j: number) => boolean,
): Mesh {
  const m = meshBuilder();
  const at = Array.from({ length: n + 1 }, (_, i) =>
    Array.from({ length: n + 1 }, (__, j) => m.vertex((10 * i) / n, (10 * j) / n, rough * random())),
  );
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      if (!open(i, j)) m.quad(at[i][j], at[i + 1][j], at[i + 1][j + 1], at[i][j + 1]);
    }
  }
  return m.mesh();
}

/** A strip to x = 4, folded back under itself there. */
function folded(n: number, gap: number): Mesh {
  const m = meshBuilder();
  for (let i = 0; i < n; i++) {
    const [y0, y1] = [(10 * i) / n, (10 * (i + 1)) / n];
    const [a, b] = [m.vertex(4, y0, 0), m.vertex(4, y1, 0)];
    m.quad(m.vertex(-20, y0, 0), a, b, m.vertex(-20, y1, 0));
    m.quad(m.vertex(-20, y1, -gap), b, a, m.vertex(-20, y0, -gap));
  }
  return m.mesh();
}

/** Of triangles thrown on `mesh`, how many a sheet bounds; each of these is checked against points all over it. */
function bounded(mesh: Mesh, size: number, limit: number, random: () => number): number {
  const tree = buildTree(mesh);
  const sheet = createSheet(tree, orientedNeighbors(tree));
  const hit = closestHit();
  const triangle = new Float64Array(9);
  let count = 0;
  for (let n = 0; n < 150; n++) {
    const slot = Math.floor(random() * tree.size);
    const [a, b, c] = [0, 1, 2].map(k => {
      const v = 3 * tree.corners[3 * slot + k];
      return tree.vertices.subarray(v, v + 3);
    });
    // Corners in the plane of that face, and a little beside it.
    for (let corner = 0; corner < 9; corner += 3) {
      const [s, t] = [0.3 + size * (random() - 0.5), 0.3 + size * (random() - 0.5)];
      for (let k = 0; k < 3; k++) {
        const off = limit * (random() - 0.5);
        triangle[corner + k] = a[k] + s * (b[k] - a[k]) + t * (c[k] - a[k]) + off;
      }
    }
    const task = {
      bounds: { ...noBounds(), low: 0 },
      epsilon: limit,
      tolerance: Infinity,
      changed: true,
      work: 1e6,
    };
    if (!sheet(task, triangle, slot, Infinity)) continue;
    count++;
    let most = 0;
    for (let i = 0; i <= 12; i++) {
      for (let j = 0; i + j <= 12; j++) {
        const [r, s, t] = [i / 12, j / 12, (12 - i - j) / 12];
        const [x, y, z] = [0, 1, 2].map(k => r * triangle[k] + s * triangle[k + 3] + t * triangle[k + 6]);
        closestPoint(tree, x, y, z, hit);
        most = Math.max(most, Math.sqrt(hit.distanceSq));
      }
    }
    expect(most).toBeLessThanOrEqual(Math.max(task.bounds.high, task.bounds.low) + 1e-9);
  }
  return count;
}

describe('the bound over one sheet', () => {
  it('holds wherever it is given: uneven, bent, folded and holed sheets', () => {
    let count = 0;
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 8 }),
        fc.double({ min: 0.2, max: 12, noNaN: true }),
        fc.constantFrom(1e-3, 0.02, 0.3),
        (seed, n, size, limit) => {
          const random = randomFrom(seed);
          const hole = Math.floor(random() * n);
          count += bounded(
            uneven(n, limit, random, () => false),
            size,
            limit,
            random,
          );
          count += bounded(
            uneven(n + 1, limit, random, (i, j) => i === hole && j === 0),
            size,
            limit,
            random,
          );
          count += bounded(folded(n, limit / 4), size / 2, limit, random);
          count += bounded(torus(10, 4, 20 + n, 12), size, limit, random);
        },
      ),
      { numRuns: 15 },
    );
    expect(count).toBeGreaterThan(300);
  });
});
