import { area, type Mesh } from '@kinprint/mesh';
import { bodyOf } from '../body.ts';
import { toManifold } from '../convert.ts';
import { materialDifference } from '../difference/material-difference.ts';
import { frameOf } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { expectedBalances } from './expected-balances.ts';
import { solidAround } from './solid-around.ts';
import { isSumOfRemixes } from './sum-of-remixes.ts';
import { surfaceFigures } from './surface-figures.ts';
import { remixes, type Applied, type Remix, type RemixChanges } from './types.ts';

/** How much of one change the result shows. */
export interface Presence {
  readonly side: Remix;
  readonly index: number;
  /** Whether it was to be in the result. */
  readonly wanted: boolean;
  /** Of an added piece what is filled in the result, of a removed one what is empty there. Looked for in the parts. */
  readonly present_mm3: number;
  /** Whether all of it is there, up to tolerance × surface. */
  readonly whole: boolean;
}

/** The result against one of the inputs. */
export interface Balance {
  readonly against: 'base' | Remix;
  /** Material of the result that the input has not, and the other way round, measured. Null when it cannot be said. */
  readonly added_mm3: number | null;
  readonly removed_mm3: number | null;
  /** What the changes that were and were not taken make of it. */
  readonly expected_added_mm3: number;
  readonly expected_removed_mm3: number;
  /** Whether both agree up to tolerance × surface of the changes; `faces` has the volume of the whole agree. */
  readonly holds: boolean;
}

export interface SolidProof {
  /**
   * - `faces`: the result is A + B − base face by face, so that each change is in it as it is.
   * - `volumes`: by booleans between the result and the inputs.
   */
  readonly by: 'faces' | 'volumes';
  readonly presence: readonly Presence[];
  readonly balances: readonly Balance[];
}

/**
 * Compares a result with the inputs it was made from, knowing nothing of how it was made: each change by its own
 * volume, and the whole by the volumes of its differences from base and remixes, so that nothing else changed either.
 * Where all changes went in and the faces themselves tell it, nothing needs to be measured (see `isSumOfRemixes`; that
 * no faces of the result cross is asked apart).
 *
 * @param result as it was written and read again, in the frame of the base
 */
export function proveCombination(
  kernel: Kernel,
  meshes: Readonly<Record<'base' | Remix, Mesh>>,
  changes: Readonly<Record<Remix, RemixChanges>>,
  applied: readonly Applied[],
  agreed: (side: Remix, index: number) => boolean,
  result: Mesh,
  tolerance_mm: number,
): SolidProof {
  const all = remixes.flatMap(side => changes[side].pieces);
  const surface = all.reduce((sum, { region }) => sum + area(region.mesh), 0);
  const noise_mm3 = tolerance_mm * surface;
  if (applied.length === all.length && isSumOfRemixes(meshes, result, tolerance_mm))
    return provenByFaces(meshes.base, changes, result, noise_mm3);
  const presence = presenceOf(kernel, changes, result, tolerance_mm, (side, index) => {
    return agreed(side, index) || applied.some(each => each.side === side && each.index === index);
  });
  const taken = applied.map(({ piece }) => piece);
  const own = { base: [], a: changes.a.pieces, b: changes.b.pieces };
  const expectations = expectedBalances(kernel, meshes.base, all, taken, own, tolerance_mm);
  const balanceWith = (against: 'base' | Remix): Balance => {
    const expected = expectations[against];
    const found = materialDifference(kernel, meshes[against], result, { tolerance_mm });
    const near = (measured: number | null, wanted: number) =>
      measured !== null && Math.abs(measured - wanted) <= noise_mm3 + 1e-6 * wanted;
    return {
      against,
      added_mm3: found.added_mm3,
      removed_mm3: found.removed_mm3,
      ...expected,
      holds:
        near(found.added_mm3, expected.expected_added_mm3) &&
        near(found.removed_mm3, expected.expected_removed_mm3),
    };
  };
  return { by: 'volumes', presence, balances: (['base', 'a', 'b'] as const).map(balanceWith) };
}

/** Each change is there as it is; what is left to be told is that the volume of the whole is what it should be. */
function provenByFaces(
  base: Mesh,
  changes: Readonly<Record<Remix, RemixChanges>>,
  result: Mesh,
  noise_mm3: number,
): SolidProof {
  const sum = (sides: readonly Remix[], kind: 'added' | 'removed') =>
    sides
      .flatMap(side => changes[side].pieces)
      .reduce((total, { region }) => total + (region.kind === kind ? region.volume_mm3 : 0), 0);
  const [before, after] = [base, result].map(mesh => surfaceFigures(mesh).volume_mm3);
  const expected = sum(remixes, 'added') - sum(remixes, 'removed');
  const holds = Math.abs(after - before - expected) <= noise_mm3 + 1e-6 * Math.abs(before);
  const balanceWith = (against: 'base' | Remix): Balance => {
    const sides = remixes.filter(side => side !== against);
    const [added, removed] = [sum(sides, 'added'), sum(sides, 'removed')];
    return {
      against,
      added_mm3: added,
      removed_mm3: removed,
      expected_added_mm3: added,
      expected_removed_mm3: removed,
      holds,
    };
  };
  const presence = remixes.flatMap(side =>
    changes[side].pieces.map(({ region }, index): Presence => {
      return { side, index, wanted: true, present_mm3: region.volume_mm3, whole: true };
    }),
  );
  return { by: 'faces', presence, balances: (['base', 'a', 'b'] as const).map(balanceWith) };
}

/** How much of each change is there: its parts against the result around them. */
function presenceOf(
  kernel: Kernel,
  changes: Readonly<Record<Remix, RemixChanges>>,
  result: Mesh,
  tolerance_mm: number,
  wanted: (side: Remix, index: number) => boolean,
): Presence[] {
  const parts = remixes.flatMap(side => changes[side].pieces.flatMap(piece => piece.partsAt(tolerance_mm)));
  const closed = bodyOf(result) !== null;
  return withSolids(keep => {
    const frame = frameOf(result, ...parts);
    const solid = (mesh: Mesh): KernelSolid => keep(toManifold(kernel, mesh, frame));
    const whole = closed ? keep(solidAround(kernel, result, parts, frame, tolerance_mm)) : null;
    return remixes.flatMap(side =>
      changes[side].pieces.map((change, index): Presence => {
        const { region } = change;
        const piece = keep(kernel.api.Manifold.union(change.partsAt(tolerance_mm).map(solid)));
        const filled = whole === null ? null : keep(whole.intersect(piece)).volume() / piece.volume();
        const share = filled === null ? 0 : region.kind === 'added' ? filled : 1 - filled;
        return {
          side,
          index,
          wanted: wanted(side, index),
          present_mm3: Math.max(0, Math.min(1, share)) * region.volume_mm3,
          whole: (1 - share) * region.volume_mm3 <= tolerance_mm * area(region.mesh),
        };
      }),
    );
  });
}
