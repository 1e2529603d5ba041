import { area, type Mesh } from '@kinprint/mesh';
import { bodyOf } from '../body.ts';
import { toManifold } from '../convert.ts';
import { materialDifference } from '../difference/material-difference.ts';
import { frameOf } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { grown } from './grow.ts';
import { remembered } from './remembered.ts';
import { remixes, type Applied, type Change, type Remix, type RemixChanges } from './types.ts';

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
  /** Whether both agree up to tolerance × surface of the changes. */
  readonly holds: boolean;
}

export interface SolidProof {
  readonly presence: readonly Presence[];
  readonly balances: readonly Balance[];
}

/**
 * Compares a result with the inputs it was made from, knowing nothing of how it was made: each change by its own
 * volume, and the whole by the volumes of its differences from base and remixes, so that nothing else changed either.
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
  return withSolids(keep => {
    const frame = frameOf(meshes.base, result, ...all.map(({ region }) => region.mesh));
    const cube = frame.scale ** 3;
    const solid = (mesh: Mesh): KernelSolid => keep(toManifold(kernel, mesh, frame));
    const union = (solids: readonly KernelSolid[]): KernelSolid => keep(kernel.api.Manifold.union(solids));
    const whole = bodyOf(result) === null ? null : solid(result);
    const presence = remixes.flatMap(side =>
      changes[side].pieces.map(({ region, parts }, index): Presence => {
        const wanted =
          agreed(side, index) || applied.some(each => each.side === side && each.index === index);
        const piece = union(parts.map(solid));
        const filled = whole === null ? null : keep(whole.intersect(piece)).volume() / piece.volume();
        const share = filled === null ? 0 : region.kind === 'added' ? filled : 1 - filled;
        return {
          side,
          index,
          wanted,
          present_mm3: Math.max(0, Math.min(1, share)) * region.volume_mm3,
          whole: (1 - share) * region.volume_mm3 <= tolerance_mm * area(region.mesh),
        };
      }),
    );

    const base = solid(meshes.base);
    const restore = remembered((piece: Change) =>
      union(piece.parts.map(part => solid(grown(part, tolerance_mm)))),
    );
    const ofKind = (pieces: readonly Change[], kind: 'added' | 'removed'): KernelSolid =>
      union(pieces.filter(piece => piece.region.kind === kind).map(restore));
    /** What of the one is not in the other, outside the base or within it, where added or removed material is. */
    const beyond = (p: KernelSolid, q: KernelSolid, kind: 'added' | 'removed'): number => {
      const rest = keep(p.subtract(q));
      const there = keep(kind === 'added' ? rest.subtract(base) : rest.intersect(base));
      return Math.max(0, there.volume() / cube);
    };
    const taken = applied.map(({ piece }) => piece);
    const [added, removed] = [ofKind(taken, 'added'), ofKind(taken, 'removed')];
    const balanceWith = (against: 'base' | Remix): Balance => {
      const own = against === 'base' ? [] : changes[against].pieces;
      const [ownAdded, ownRemoved] = [ofKind(own, 'added'), ofKind(own, 'removed')];
      const expected = {
        expected_added_mm3: beyond(added, ownAdded, 'added') + beyond(ownRemoved, removed, 'removed'),
        expected_removed_mm3: beyond(ownAdded, added, 'added') + beyond(removed, ownRemoved, 'removed'),
      };
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
    return { presence, balances: (['base', 'a', 'b'] as const).map(balanceWith) };
  });
}
