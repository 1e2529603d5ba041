import type { Mesh } from '@kinprint/mesh';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { intersection, subtract, union, volumeOf } from '../solids.ts';
import { boxMesh, prismMesh, ringPoints } from '../testing/shapes.ts';
import { proveCombination } from './prove.ts';
import { combineAll, options, shapeOf, turned } from './testing.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const plate = boxMesh([0, 0, 0], [40, 30, 5]);
const boss = (x: number, y: number, r = 3, h = 4) => prismMesh(ringPoints(48, r, [x, y]), 4, 5 + h);
const bore = (x: number, y: number, r = 3) => prismMesh(ringPoints(48, r, [x, y]), -1, 6);
const withBoss = (x: number, y: number, r?: number) => union(kernel, [plate, boss(x, y, r)]);
const withBore = (x: number, y: number, r?: number) => subtract(kernel, plate, bore(x, y, r));

describe('what comes out as one of the inputs is that input', () => {
  it('with an unchanged side the other side, whichever is named first', () => {
    const b = withBore(20, 15);
    expect(combineAll(kernel, plate, plate, b).made).toMatchObject({ copied: 'b', exact: true });
    expect(combineAll(kernel, plate, plate, b).made.mesh).toBe(b);
    expect(combineAll(kernel, plate, b, plate).made.mesh).toBe(b);
  });

  it('with nothing changed the base, with nothing chosen the base', () => {
    expect(combineAll(kernel, plate, plate, plate).made.mesh).toBe(plate);
    const [a, b] = [withBore(20, 15, 3), withBore(21, 15, 4)];
    expect(combineAll(kernel, plate, a, b, () => 'none').made.mesh).toBe(plate);
    expect(combineAll(kernel, plate, a, b, () => 'a').made.mesh).toBe(a);
    expect(combineAll(kernel, plate, a, b, () => 'b').made.mesh).toBe(b);
  });

  it('of two that made the same change one, the same one either way round', () => {
    const a = withBore(20, 15);
    // The same faces, last first.
    const faces = Array.from({ length: a.triangles.length / 3 }, (_, f) => [
      ...a.triangles.subarray(3 * f, 3 * f + 3),
    ]);
    const other: Mesh = { positions: a.positions, triangles: Uint32Array.from(faces.reverse().flat()) };
    const there = combineAll(kernel, plate, a, other);
    expect(there.contact.agreements).toEqual([{ a: 0, b: 0 }]);
    expect(there.contact.conflicts).toEqual([]);
    expect(combineAll(kernel, plate, other, a).made.mesh).toEqual(there.made.mesh);
  });
});

describe('independent booleans', () => {
  it('(A ∩ B) ∪ ((A ∪ B) − base) is the result where nothing touches; volumes by inclusion and exclusion', () => {
    const a = union(kernel, [withBoss(8, 8), boxMesh([40, 10, 0], [46, 20, 5])]);
    const b = subtract(kernel, withBore(20, 15), boxMesh([30, 24, 3], [36, 31, 6]));
    const { made, contact, proof } = combineAll(kernel, plate, a, b);
    expect(contact).toEqual({ conflicts: [], agreements: [], nearest: null });
    const outside = subtract(kernel, union(kernel, [a, b]), plate);
    const wanted = union(kernel, [intersection(kernel, a, b), outside]);
    const apart = [subtract(kernel, made.mesh, wanted), subtract(kernel, wanted, made.mesh)];
    for (const rest of apart) expect(volumeOf(kernel, rest)).toBeLessThan(1e-3);
    const sum = volumeOf(kernel, a) + volumeOf(kernel, b) - volumeOf(kernel, plate);
    expect(volumeOf(kernel, made.mesh)).toBeCloseTo(sum, 3);
    expect(made.exact).toBe(true);
    expect(proof.balances.every(balance => balance.holds)).toBe(true);
  });

  it('askew, where rounding makes films: one shell, one hole, no more faces than needed', () => {
    const askew = (mesh: Mesh): Mesh => {
      const { positions, triangles } = turned(mesh, 0.3, 0.7);
      return { positions: Float32Array.from(positions), triangles };
    };
    const [base, a, b] = [plate, withBoss(10, 10), withBore(28, 18)].map(askew);
    const { made, contact } = combineAll(kernel, base, a, b);
    expect(contact.conflicts).toEqual([]);
    expect(shapeOf(made.mesh)).toMatchObject({ shells: 1, handles: 1 });
    // 48 sides of the boss and of the bore, each with a share of the faces around its two rims.
    expect(made.mesh.triangles.length / 3).toBeLessThan(12 + 2 * 4 * 48 + 48);
    const sum = volumeOf(kernel, a) + volumeOf(kernel, b) - volumeOf(kernel, base);
    expect(Math.abs(volumeOf(kernel, made.mesh) - sum)).toBeLessThan(5e-3);
  });
});

describe('near and touching', () => {
  it('two bosses 0.3 mm apart are told, 0.02 mm apart they touch', () => {
    const apart = (gap: number) =>
      combineAll(
        kernel,
        plate,
        union(kernel, [plate, boxMesh([5, 5, 4], [10, 10, 8])]),
        union(kernel, [plate, boxMesh([10 + gap, 5, 4], [15, 10, 8])]),
      ).contact;
    expect(apart(1.5)).toEqual({ conflicts: [], agreements: [], nearest: null });
    const near = apart(0.3);
    expect(near.conflicts).toEqual([]);
    // Parts are a tolerance smaller on either side.
    expect(near.nearest!.gap_mm).toBeGreaterThan(0.3 - 1e-4);
    expect(near.nearest!.gap_mm).toBeLessThan(0.3 + 3 * options.tolerance_mm);
    expect(apart(0.02).conflicts).toMatchObject([{ kind: 'both-added', overlap_mm3: 0 }]);
  });

  it('overlapping boxes: the volume in common has a closed form', () => {
    const a = subtract(kernel, plate, boxMesh([5, 5, 3], [15, 12, 6]));
    const b = subtract(kernel, plate, boxMesh([11, 8, 2], [20, 20, 6]));
    const { conflicts } = combineAll(kernel, plate, a, b).contact;
    expect(conflicts).toMatchObject([{ kind: 'both-removed', gap_mm: 0 }]);
    expect(conflicts[0].overlap_mm3).toBeCloseTo(4 * 4 * 2, 2);
  });

  it('what hangs together over a chain of touches is one conflict', () => {
    const a = union(kernel, [plate, boxMesh([5, 5, 4], [10, 10, 8]), boxMesh([20, 5, 4], [25, 10, 8])]);
    const b = union(kernel, [plate, boxMesh([9, 6, 4], [21, 9, 7])]);
    const { conflicts } = combineAll(kernel, plate, a, b).contact;
    expect(conflicts.map(conflict => conflict.pieces)).toEqual([{ a: [0, 1], b: [0] }]);
  });
});

describe('the proof', () => {
  const proven = (result: Mesh) => {
    const [a, b] = [withBoss(10, 10), withBore(28, 18)];
    const { changes, made } = combineAll(kernel, plate, a, b);
    return proveCombination(
      kernel,
      { base: plate, a, b },
      changes,
      made.applied,
      () => false,
      result,
      options.tolerance_mm,
    );
  };

  it('misses a change that is not in the result', () => {
    const { presence, balances } = proven(withBoss(10, 10));
    expect(presence.map(each => [each.side, each.whole])).toEqual([
      ['a', true],
      ['b', false],
    ]);
    expect(balances.some(balance => balance.holds)).toBe(false);
  });

  it('finds fault with anything else that changed', () => {
    const both = subtract(kernel, withBoss(10, 10), bore(28, 18));
    expect(proven(both).balances.every(balance => balance.holds)).toBe(true);
    const more = union(kernel, [both, boxMesh([2, 24, 4], [4, 26, 6])]);
    const { presence, balances } = proven(more);
    expect(presence.every(each => each.whole)).toBe(true);
    expect(balances.map(balance => balance.holds)).toEqual([false, false, false]);
    expect(balances[0].added_mm3! - balances[0].expected_added_mm3).toBeCloseTo(4, 3);
  });

  it('says nothing is there of an open surface', () => {
    const open = { positions: plate.positions, triangles: plate.triangles.slice(3) };
    expect(proven(open).presence.some(each => each.whole)).toBe(false);
  });
});
