import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moved, rotation, scaled, shuffled, randomFrom } from '../../../mesh/src/testing/motions.ts';
import { frustum, icosphere, tube } from '../../../mesh/src/testing/shapes.ts';
import { transformMesh, type Mesh } from '@kinprint/mesh';
import { sameOrderFit } from './same-order.ts';

const shapes: readonly Mesh[] = [tube(24, 10, 6, 20), icosphere(8, 2), frustum(12, 6, 3, 9)];
const fit = (a: Mesh, b: Mesh) => sameOrderFit(a, b, 1e-3, 2e-3);

describe('sameOrderFit', () => {
  it('finds the motion and the factor by which every corner was carried (property)', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const chosen = fc.constantFrom(...shapes);
    fc.assert(
      fc.property(
        chosen,
        number(0.2, 5),
        fc.tuple(number(-1, 1), number(-1, 1), number(-1, 1)),
        number(0, 3),
        (mesh, factor, axis, angle) => {
          fc.pre(Math.hypot(...axis) > 0.1);
          const other = moved(scaled(mesh, factor), rotation(angle, ...axis), [3, -20, 7]);
          const found = fit(mesh, other);
          if (found === null) throw new Error('no fit');
          const carried = transformMesh(mesh, found.matrix).positions;
          carried.forEach((value, k) => expect(Math.abs(value - other.positions[k])).toBeLessThan(1e-3));
          expect(found.scale / (Math.abs(Math.log(factor)) > 2e-3 ? factor : 1)).toBeCloseTo(1, 5);
          expect(found.still).toBe(false);
        },
      ),
    );
  });

  it('tells what stands still', () => {
    for (const mesh of shapes) expect(fit(mesh, mesh)).toMatchObject({ scale: 1, still: true });
  });

  it('finds none for one corner elsewhere, another order, a mirror image, fewer faces or a line', () => {
    const [mesh] = shapes;
    const bent = { ...mesh, positions: mesh.positions.map((v, k) => (k === 5 ? v + 0.01 : v)) };
    const mirror = transformMesh(mesh, [
      [-1, 0, 0, 0],
      [0, 1, 0, 0],
      [0, 0, 1, 0],
      [0, 0, 0, 1],
    ]);
    const line = {
      positions: Float64Array.from([0, 0, 0, 1, 1, 1, 2, 2, 2]),
      triangles: Uint32Array.of(0, 1, 2),
    };
    for (const other of [bent, shuffled(mesh, randomFrom(7)), mirror, shapes[1]])
      expect(fit(mesh, other)).toBeNull();
    expect(fit(line, line)).toBeNull();
    // The same corners, mirrored and listed in the old order.
    expect(fit(mesh, { ...mirror, triangles: mesh.triangles })).toBeNull();
  });
});
