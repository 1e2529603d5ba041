import type { Mesh } from '@kinprint/mesh';
import { expect, it } from 'vitest';
import { identityPlacement, type Placement } from './placement.ts';
import { ball, box, mapOf, reordered, turnedRound, withoutFaces } from './testing/parts.ts';
import { matchTriangles, type TriangleMatch } from './triangle-match.ts';
import { buildVertexGrid, nearestVertex } from './vertex-grid.ts';

function match(before: Mesh, after: Mesh, m: Placement, reach: number): TriangleMatch {
  return matchTriangles(before, after, m, buildVertexGrid(after.positions, reach));
}

it('the nearest vertex within the reach, as brute force finds it', () => {
  const { positions } = ball({ rings: 12, bumps: true });
  for (const reach of [0.01, 1.5]) {
    const grid = buildVertexGrid(positions, reach);
    for (let k = 0; k < 300; k += 1) {
      const v = (k * 7) % (positions.length / 3);
      const q = [0, 1, 2].map(c => positions[3 * v + c] + reach * 0.9 * Math.sin(k * (c + 1.3)));
      let best = -1;
      let least = reach;
      for (let w = 0; w < positions.length / 3; w += 1) {
        const d = Math.hypot(
          positions[3 * w] - q[0],
          positions[3 * w + 1] - q[1],
          positions[3 * w + 2] - q[2],
        );
        if (d < least) {
          least = d;
          best = w;
        }
      }
      expect(nearestVertex(grid, q[0], q[1], q[2])).toBe(best);
    }
  }
});

it('like faces are found in any order, and the turned ones counted', () => {
  const mesh = ball({ rings: 9, bumps: true });
  const other = reordered(mesh, 3);
  const same = match(mesh, other, identityPlacement(), 1e-6);
  expect(same.matched).toBe(mesh.triangles.length / 3);
  expect(same.turned).toBe(0);
  const turned = match(
    mesh,
    { ...other, triangles: turnedRound(other.triangles) },
    identityPlacement(),
    1e-6,
  );
  expect(turned.turned).toBe(mesh.triangles.length / 3);
  const fewer = match(
    mesh,
    withoutFaces(other, f => f < 5),
    identityPlacement(),
    1e-6,
  );
  expect(fewer.matched).toBe(mesh.triangles.length / 3 - 5);
  expect(fewer.beforeToAfter.filter(g => g < 0)).toHaveLength(5);
});

it('nothing matches beyond the reach', () => {
  const off = Float64Array.from(mapOf({ shift: [1e-3, 0, 0] }));
  expect(match(box(1, 2, 3), box(1, 2, 3), off, 0.9e-3).matched).toBe(0);
  expect(match(box(1, 2, 3), box(1, 2, 3), off, 1.1e-3).matched).toBe(12);
});
