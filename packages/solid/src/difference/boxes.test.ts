import { expect, it } from 'vitest';
import { defaults } from '../defaults.ts';
import { ballMesh, boxMesh, together } from '../testing/shapes.ts';
import { changedBoxes } from './boxes.ts';

const cubeAt = (x: number, y: number, z: number) => boxMesh([x, y, z], [x + 1, y + 1, z + 1]);
const marked = (mesh: ReturnType<typeof cubeAt>) => ({
  mesh,
  changed: new Uint8Array(mesh.triangles.length / 3).fill(1),
});

it('far-apart changes get boxes of their own, close ones share; the order of the meshes does not matter', () => {
  const a = marked(together(cubeAt(0, 0, 0), cubeAt(50, 0, 0)));
  const b = marked(cubeAt(0.5, 1.01, 0));
  const boxes = changedBoxes([a, b], 100, 1e-3);
  expect(boxes.map(({ bounds }) => bounds)).toEqual([
    { min: [0, 0, 0], max: [1.5, 2.01, 1] },
    { min: [50, 0, 0], max: [51, 1, 1] },
  ]);
  expect(changedBoxes([b, a], 100, 1e-3)).toEqual(boxes);
});

it('nothing changed: no box; unchanged faces do not count', () => {
  const cube = cubeAt(0, 0, 0);
  expect(changedBoxes([{ mesh: cube, changed: new Uint8Array(12) }], 10, 1e-3)).toEqual([]);
  const changed = new Uint8Array(12);
  changed[0] = 1;
  const [box] = changedBoxes([{ mesh: cube, changed }], 10, 1e-3);
  const corners = [...cube.triangles.slice(0, 3)].map(v => [...cube.positions.slice(3 * v, 3 * v + 3)]);
  expect(box.bounds.max).toEqual([0, 1, 2].map(k => Math.max(...corners.map(corner => corner[k]))));
});

it('many changes end in few boxes that hold every one and stay clear of each other', () => {
  const spots = Array.from({ length: 90 }, (_, i) => {
    const turn = 2.4 * i;
    return ballMesh(0.2, 4, 6, [30 * Math.cos(turn), 30 * Math.sin(turn), i]);
  });
  const boxes = changedBoxes(spots.map(marked), 120, 1e-3);
  expect(boxes.length).toBeLessThanOrEqual(defaults.maxBoxes);
  for (const spot of spots) {
    const holders = boxes.filter(({ bounds: { min, max } }) =>
      spot.positions.every((x, i) => x >= min[i % 3] && x <= max[i % 3]),
    );
    expect(holders).toHaveLength(1);
  }
  boxes.forEach((p, i) => {
    for (const q of boxes.slice(i + 1)) {
      const reach = 2 * (p.margin + q.margin);
      const apart = [0, 1, 2].some(
        k => p.bounds.min[k] - q.bounds.max[k] > reach || q.bounds.min[k] - p.bounds.max[k] > reach,
      );
      expect(apart).toBe(true);
    }
  });
});
