import type { Mesh } from '@kinprint/mesh';
import { crossingPairs } from '@kinprint/mesh';
import { expect, it } from 'vitest';
import { ballMesh, mapped, prismMesh, ringPoints } from '../testing/shapes.ts';
import { gluedRemixes } from './glued-remixes.ts';
import { shapeOf } from './testing.ts';

const ball = ballMesh(10, 24, 36);
/** Pulled out by `by_mm` near a pole of the z axis. */
const pulled = (sign: 1 | -1, by_mm: number): Mesh =>
  mapped(ball, ([x, y, z]) => (sign * z > 8 ? [x, y, z + (sign * by_mm * (sign * z - 8)) / 2] : [x, y, z]));

it('a bump of one remix and a dent of the other: every face is one of theirs, the volume is A + B − base', () => {
  const [a, b] = [pulled(1, 3), pulled(-1, -2)];
  const glued = gluedRemixes({ base: ball, a, b }, 1e-3)!;
  expect(glued.mesh.triangles.length).toBe(ball.triangles.length);
  const [base, first, second, result] = [ball, a, b, glued.mesh].map(mesh => shapeOf(mesh)!);
  expect(result).toMatchObject({ shells: 1, handles: 0 });
  expect(result.volume_mm3).toBeCloseTo(first.volume_mm3 + second.volume_mm3 - base.volume_mm3, 8);
  expect(crossingPairs(glued.mesh).pairs).toHaveLength(0);
  expect(gluedRemixes({ base: ball, a: b, b: a }, 1e-3)).toEqual(glued);
});

it('not where both exchanged a face of the base', () => {
  const disk = prismMesh(ringPoints(12, 5), 0, 2);
  const higher = prismMesh(ringPoints(12, 5), 0, 3);
  const wider = mapped(disk, ([x, y, z]) => [1.5 * x, y, z]);
  expect(gluedRemixes({ base: disk, a: higher, b: wider }, 1e-3)).toBeNull();
});
