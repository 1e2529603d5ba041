import { bodyToManifold, fromManifold } from '../convert.ts';
import type { Body } from '../body.ts';
import type { Frame } from '../frame.ts';
import { withSolids, type Kernel } from '../kernel.ts';
import { bothSurfaces } from './both-surfaces.ts';
import { withoutFilms } from './films.ts';
import { regionsOf } from './regions.ts';
import type { MaterialRegion } from './types.ts';

export interface BothWays {
  readonly regions: readonly MaterialRegion[];
  readonly slivers_mm3: number;
}

/** The two boolean differences of a pair of bodies, split into regions. */
export function differBothWays(
  kernel: Kernel,
  before: Body,
  after: Body,
  frame: Frame,
  thinnest_mm: number,
): BothWays {
  return withSolids(keep => {
    const a = keep(bodyToManifold(kernel, before, frame));
    const b = keep(bodyToManifold(kernel, after, frame));
    const removed = regionsOf(fromManifold(keep(a.subtract(b)), frame), 'removed', thinnest_mm);
    const added = regionsOf(fromManifold(keep(b.subtract(a)), frame), 'added', thinnest_mm);
    const found = [...added.regions, ...removed.regions];
    const slivers_mm3 = added.slivers_mm3 + removed.slivers_mm3;
    if (found.length === 0) return { regions: [], slivers_mm3 };
    const surfaces = bothSurfaces(before.mesh, after.mesh, thinnest_mm);
    const freed = found.map(region => withoutFilms(kernel, region, surfaces));
    return {
      regions: freed.flatMap(({ regions }) => regions),
      slivers_mm3: freed.reduce((sum, { films_mm3 }) => sum + films_mm3, slivers_mm3),
    };
  });
}
