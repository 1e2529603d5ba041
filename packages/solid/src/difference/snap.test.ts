import { expect, it } from 'vitest';
import { ballMesh, boxMesh, mapped } from '../testing/shapes.ts';
import { snapOnto } from './snap.ts';

it('noise within the tolerance vanishes: every face is common', () => {
  const ball = ballMesh(10, 20, 40);
  let k = 0;
  const noisy = mapped(ball, point => {
    k++;
    return [point[0] + 1e-4 * Math.sin(k), point[1] + 1e-4 * Math.cos(3 * k), point[2]];
  });
  const { before, unmatched } = snapOnto(noisy, ball, 1e-3);
  expect([...before.positions]).toEqual([...ball.positions]);
  expect(Math.max(...unmatched.before, ...unmatched.after)).toBe(0);
});

it('what is further off stays where it is', () => {
  const a = boxMesh([0, 0, 0], [10, 10, 10]);
  const b = boxMesh([0, 0, 0], [10, 10, 10.1]);
  const { before, unmatched } = snapOnto(a, b, 0.01);
  expect(before.positions).toEqual(a.positions);
  expect([...unmatched.before].filter(face => face === 0)).toHaveLength(2);
});

it('a face that would turn over keeps its own vertices', () => {
  // A sliver whose tip lies 0.02 beyond its base; AFTER has a vertex 0.02 on the other side of it.
  const positions = Float64Array.of(0, 0, 0, 10, 0, 0, 5, 0.02, 0, 5, 5, 0, 5, 0, 5);
  const before = { positions, triangles: Uint32Array.of(0, 1, 2) };
  const after = {
    positions: Float64Array.of(0, 0, 0, 10, 0, 0, 5, -0.02, 0, 5, 5, 0, 5, 0, 5),
    triangles: Uint32Array.of(0, 1, 3),
  };
  expect(snapOnto(before, after, 0.1).before.positions).toEqual(positions);
  const upright = { positions, triangles: Uint32Array.of(3, 4, 2) };
  expect(snapOnto(upright, after, 0.1).before.positions[7]).toBe(-0.02);
});
