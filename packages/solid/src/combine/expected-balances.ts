import type { Bounds, Mesh } from '@kinprint/mesh';
import { toManifold } from '../convert.ts';
import { boundsOfAll } from '../extent.ts';
import { frameOf } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { grown } from './grow.ts';
import { remembered } from './remembered.ts';
import { solidAround } from './solid-around.ts';
import type { Change, Remix } from './types.ts';

export interface ExpectedBalance {
  readonly expected_added_mm3: number;
  readonly expected_removed_mm3: number;
}

type Inputs<T> = Readonly<Record<'base' | Remix, T>>;

/**
 * What the differences from each input to a result must come to, by the changes alone.
 *
 * @param all the changes of both remixes
 * @param taken those that are in the result
 * @param own those that each input has
 */
export function expectedBalances(
  kernel: Kernel,
  base: Mesh,
  all: readonly Change[],
  taken: readonly Change[],
  own: Inputs<readonly Change[]>,
  tolerance_mm: number,
): Inputs<ExpectedBalance> {
  const restored = new Map(
    all.map(change => [change, change.partsAt(tolerance_mm).map(part => grown(part, tolerance_mm))]),
  );
  const tools = [...restored.values()].flat();
  const frame = frameOf(base, ...tools);
  return withSolids(keep => {
    const solid = (mesh: Mesh) => keep(toManifold(kernel, mesh, frame));
    const union = (solids: readonly KernelSolid[]) => keep(kernel.api.Manifold.union(solids));
    const whole = keep(solidAround(kernel, base, tools, frame, tolerance_mm));
    const restore = remembered((change: Change) => union((restored.get(change) ?? []).map(solid)));
    const boxOf = remembered((change: Change) => boundsOfAll(restored.get(change) ?? []));
    /** What some changes of a kind put outside the base, or cut out of it, that others of that kind do not. */
    const beyond = (
      some: readonly Change[],
      others: readonly Change[],
      kind: 'added' | 'removed',
    ): number => {
      const first = some.filter(change => change.region.kind === kind && !others.includes(change));
      if (first.length === 0) return 0;
      const second = others.filter(
        change => change.region.kind === kind && first.some(other => meet(boxOf(change), boxOf(other))),
      );
      const own = union(first.map(restore));
      const rest = second.length === 0 ? own : keep(own.subtract(union(second.map(restore))));
      const there = keep(kind === 'added' ? rest.subtract(whole) : rest.intersect(whole));
      return Math.max(0, there.volume() / frame.scale ** 3);
    };
    const against = (has: readonly Change[]): ExpectedBalance => ({
      expected_added_mm3: beyond(taken, has, 'added') + beyond(has, taken, 'removed'),
      expected_removed_mm3: beyond(has, taken, 'added') + beyond(taken, has, 'removed'),
    });
    return { base: against(own.base), a: against(own.a), b: against(own.b) };
  });
}

function meet(p: Bounds | null, q: Bounds | null): boolean {
  return p !== null && q !== null && [0, 1, 2].every(k => p.min[k] <= q.max[k] && q.min[k] <= p.max[k]);
}
