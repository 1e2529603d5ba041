import fc from 'fast-check';
import { crossingPairs, type Mesh } from '@kinprint/mesh';
import { beforeAll, expect, it } from 'vitest';
import '../../../../test/support/property-seed.ts';
import { loadKernel, type Kernel } from '../kernel.ts';
import { subtract, union } from '../solids.ts';
import { boxMesh, prismMesh, ringPoints } from '../testing/shapes.ts';
import { combineAll, shapeOf, turned } from './testing.ts';
import type { Conflict, Take } from './types.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** What is made at one place of a plate: a boss on it or a bore through it, both of 32 sides. */
interface Edit {
  readonly kind: 'boss' | 'bore';
  readonly r: number;
  readonly h: number;
}

const thick = 5;
const sides = 32;
const [across, along] = [3, 2];
/** Area of a regular polygon in a circle of radius r: n/2 · r² · sin(2π/n). */
const disk = (r: number) => (sides / 2) * r * r * Math.sin((2 * Math.PI) / sides);
const plateVolume = 12 * across * 12 * along * thick;

const center = (cell: number) => [6 + 12 * (cell % across), 6 + 12 * Math.floor(cell / across)] as const;

function plateWith(edits: readonly (Edit | null)[]): Mesh {
  const plate = boxMesh([0, 0, 0], [12 * across, 12 * along, thick]);
  const made = (kind: Edit['kind'], from: number, to: (edit: Edit) => number) =>
    edits.flatMap((edit, cell) =>
      edit?.kind === kind ? [prismMesh(ringPoints(sides, edit.r, center(cell)), from, to(edit))] : [],
    );
  const bores = made('bore', -1, () => thick + 1);
  const bosses = made('boss', thick - 1, edit => thick + edit.h);
  const bored = bores.length > 0 ? subtract(kernel, plate, union(kernel, bores)) : plate;
  return bosses.length > 0 ? union(kernel, [bored, ...bosses]) : bored;
}

/** What the edits of one place add and take away, whichever of the two remixes they are from. */
function expected(a: Edit | null, b: Edit | null): number {
  const [bosses, bores] = (['boss', 'bore'] as const).map(kind =>
    [a, b].flatMap(edit => (edit?.kind === kind ? [edit] : [])),
  );
  const [p, q] = bosses;
  const shared = q === undefined ? 0 : disk(Math.min(p.r, q.r)) * Math.min(p.h, q.h);
  const added = bosses.reduce((sum, { r, h }) => sum + disk(r) * h, 0) - shared;
  return added - disk(Math.max(0, ...bores.map(bore => bore.r))) * thick;
}

const edit: fc.Arbitrary<Edit | null> = fc.oneof(
  { weight: 2, arbitrary: fc.constant(null) },
  fc.record({
    kind: fc.constantFrom<Edit['kind']>('boss', 'bore'),
    r: fc.constantFrom(1, 1.75, 2.5, 3.25),
    h: fc.constantFrom(0.5, 2, 3.5),
  }),
);
const edits = fc.array(edit, { minLength: across * along, maxLength: across * along });
const take = fc.constantFrom<Take>('a', 'b', 'both', 'none');
const angle = fc.constantFrom(0, 0.3, 1.1);

const same = (p: Edit, q: Edit) => p.kind === q.kind && p.r === q.r && (p.kind === 'bore' || p.h === q.h);
const swappedTake = { a: 'b', b: 'a', both: 'both', none: 'none' } as const;

it('random bosses and bores: conflicts, agreements and volume as constructed, proven, either way round', () => {
  fc.assert(
    fc.property(
      edits,
      edits,
      fc.array(take, { minLength: across * along, maxLength: across * along }),
      angle,
      angle,
      (a, b, takes, z, x) => {
        const place = (mesh: Mesh) => turned(mesh, z, x);
        const [base, first, second] = [[], a, b].map(list => place(plateWith(list)));
        const cells = Array.from({ length: across * along }, (_, cell) => cell);
        const shared = cells.filter(cell => a[cell] !== null && b[cell] !== null);
        const clashing = shared.filter(cell => !same(a[cell]!, b[cell]!));
        const cellOf = (conflict: Conflict, found: ReturnType<typeof combineAll>) => {
          const { centroid_mm } = found.changes.a.pieces[conflict.pieces.a[0]].region;
          const away = (cell: number) => {
            const [cx, cy] = center(cell);
            const middle = place({
              positions: Float64Array.of(cx, cy, thick / 2),
              triangles: new Uint32Array(),
            });
            return Math.hypot(...middle.positions.map((v, k) => v - centroid_mm[k]));
          };
          return cells.reduce((best, cell) => (away(cell) < away(best) ? cell : best));
        };
        const once = combineAll(kernel, base, first, second, () => 'none');
        const chosen = once.contact.conflicts.map(conflict => takes[cellOf(conflict, once)]);
        const choose = (list: readonly Take[]) => {
          let k = 0;
          return () => list[k++];
        };
        const found = combineAll(kernel, base, first, second, choose(chosen));

        expect(found.contact.conflicts).toHaveLength(clashing.length);
        expect(found.contact.agreements).toHaveLength(shared.length - clashing.length);
        const kinds = clashing.map(cell =>
          a[cell]!.kind !== b[cell]!.kind
            ? 'added-against-removed'
            : a[cell]!.kind === 'boss'
              ? 'both-added'
              : 'both-removed',
        );
        expect(found.contact.conflicts.map(conflict => conflict.kind).sort()).toEqual(kinds.sort());

        const kept = (cell: number, side: 'a' | 'b') => {
          const own = side === 'a' ? a[cell] : b[cell];
          return clashing.includes(cell) && takes[cell] !== 'both' && takes[cell] !== side ? null : own;
        };
        const volume = cells.reduce(
          (sum, cell) =>
            sum +
            (shared.includes(cell) && !clashing.includes(cell)
              ? expected(a[cell], null)
              : expected(kept(cell, 'a'), kept(cell, 'b'))),
          plateVolume,
        );
        const shape = shapeOf(found.made.mesh);
        expect(crossingPairs(found.made.mesh).pairs.length / 2).toBe(0);
        expect(shape).not.toBeNull();
        // Single precision at a size of 50 mm, over 5000 mm² of surface.
        expect(Math.abs(shape!.volume_mm3 - volume)).toBeLessThan(0.02);
        const result = cells.map(cell => ({ a: kept(cell, 'a'), b: kept(cell, 'b') }));
        const radius = (kind: Edit['kind'], { a: p, b: q }: (typeof result)[number]) =>
          Math.max(0, ...[p, q].map(each => (each?.kind === kind ? each.r : 0)));
        const [bosses, bores] = (['boss', 'bore'] as const).map(kind =>
          result.map(each => radius(kind, each)),
        );
        // A boss as wide as the bore beneath touches its rim along a line: either is right then.
        if (bosses.every((r, k) => r === 0 || r !== bores[k])) {
          expect(shape!.shells).toBe(1 + bosses.filter((r, k) => r > 0 && r < bores[k]).length);
          expect(shape!.handles).toBe(bores.filter((r, k) => r > 0 && bosses[k] < r).length);
        }
        expect(found.proof.balances.every(balance => balance.holds)).toBe(true);
        expect(found.proof.presence.filter(each => each.wanted && !each.whole)).toEqual([]);

        const back = combineAll(kernel, base, second, first, choose(chosen.map(wish => swappedTake[wish])));
        expect(back.made.mesh).toEqual(found.made.mesh);
      },
    ),
    { numRuns: 12 },
  );
}, 240_000);
