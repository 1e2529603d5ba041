import fc from 'fast-check';
import { crossingPairs, type Mesh } from '@kinprint/mesh';
import { beforeAll, expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { loadKernel, type Kernel } from '../kernel.ts';
import { subtract, union } from '../solids.ts';
import { boxMesh, mapped, prismMesh, ringPoints } from '../testing/shapes.ts';
import { combineAll } from './testing.ts';
import type { Take } from './types.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** A leaf: a plate with a round end, two bores, and a knuckle across its other end. */
interface Leaf {
  readonly length: number;
  readonly width: number;
  readonly thick: number;
  readonly bore: number;
  readonly margin: number;
}

function leaf({ length, width, thick, bore, margin }: Leaf): Mesh {
  const upright = (r: number, sides: number, x: number, y: number, from: number, to: number) =>
    mapped(prismMesh(ringPoints(sides, r), from, to), ([px, py, pz]) => [px + x, py + y, pz]);
  const knuckle = mapped(prismMesh(ringPoints(48, 4), -width / 2, width / 2), ([x, y, z]) => [x, z, 4 - y]);
  const plate = union(kernel, [
    boxMesh([0, -width / 2, 0], [length, width / 2, thick]),
    upright(width / 2, 64, length, 0, 0, thick),
    knuckle,
  ]);
  return [-1, 1].reduce(
    (mesh, side) =>
      subtract(kernel, mesh, upright(bore, 24, length - margin, (side * width) / 4, -1, thick + 1)),
    plate,
  );
}

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const base: Leaf = { length: 28, width: 22, thick: 3, bore: 1.7, margin: 3 };
/**
 * One grown in the plane, the other made thicker with other bores: nearly everything of both touches. No wider bores:
 * what fills one of the base's would be loose in them.
 */
const longer = fc.record({ length: number(29, 34), width: fc.constantFrom(22, 23), margin: number(2.5, 4) });
const thicker = fc.record({ thick: number(3.2, 4), bore: fc.constantFrom(1.7, 1.5) });

it('changes in conflict, both taken: closed, proven, and no face of it crosses another as a file holds them', () => {
  fc.assert(
    fc.property(longer, thicker, (grown, stout) => {
      const [a, b] = [leaf({ ...base, ...grown }), leaf({ ...base, ...stout })];
      const { contact, made, proof } = combineAll(kernel, leaf(base), a, b);
      expect(contact.conflicts.length).toBeGreaterThan(0);
      const written = { ...made.mesh, positions: Float32Array.from(made.mesh.positions) };
      expect(crossingPairs(written).pairs.length / 2).toBe(0);
      expect(proof.presence.filter(each => each.wanted && !each.whole)).toEqual([]);
      expect(proof.balances.every(balance => balance.holds)).toBe(true);
    }),
    { numRuns: 4 },
  );
}, 240_000);

/** Each conflict settled to one side or the base: what of a remix is left out is taken back where it touches nothing else. */
it('a bore moved by one and reamed by the other, settled one by one: proven, and no face crosses another', () => {
  const moved = fc.record({ length: number(29, 31), margin: number(2.5, 3.5) });
  const takes = fc.constantFrom<Take>('a', 'b', 'none');
  fc.assert(
    fc.property(moved, number(1.8, 2), takes, takes, (place, bore, first, second) => {
      const [a, b] = [leaf({ ...base, ...place }), leaf({ ...base, bore })];
      const chosen = [first, second].values();
      const { contact, made, proof } = combineAll(kernel, leaf(base), a, b, () => chosen.next().value ?? 'a');
      expect(contact.conflicts.length).toBe(2);
      const written = { ...made.mesh, positions: Float32Array.from(made.mesh.positions) };
      expect(crossingPairs(written).pairs.length / 2).toBe(0);
      expect(proof.presence.filter(each => each.wanted && !each.whole)).toEqual([]);
      expect(proof.balances.every(balance => balance.holds)).toBe(true);
    }),
    { numRuns: 6 },
  );
}, 240_000);
