import type { Mesh } from '@kinprint/mesh';
import { bodyToManifold, fromManifold } from '../convert.ts';
import type { Body } from '../body.ts';
import { defaults } from '../defaults.ts';
import type { Frame } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { bothSurfaces, type BothSurfaces } from './both-surfaces.ts';
import { withinHulls, type Coarse } from './coarsen.ts';
import { withoutFilms } from './films.ts';
import { firstLook } from './first-look.ts';
import { regionsOf, type Connected } from './regions.ts';
import type { MaterialRegion } from './types.ts';

export interface BothWays {
  readonly regions: readonly MaterialRegion[];
  readonly slivers_mm3: number;
}

/**
 * The two boolean differences of a pair of bodies, split into regions. Nowhere deeper than `thinnest_mm`: slivers.
 * `coarse` says where they mean something when the bodies were made coarse; null when that cannot be told apart.
 */
export function differBothWays(
  kernel: Kernel,
  before: Body,
  after: Body,
  frame: Frame,
  thinnest_mm: number,
  coarse: Coarse | null,
): BothWays | null {
  return withSolids(keep => {
    const a = keep(bodyToManifold(kernel, before, frame));
    const b = keep(bodyToManifold(kernel, after, frame));
    const meaning = (solid: KernelSolid): Mesh | null => {
      const mesh = fromManifold(keep(solid), frame);
      return coarse === null ? mesh : withinHulls(mesh, coarse);
    };
    const less = meaning(a.subtract(b));
    const more = meaning(b.subtract(a));
    if (less === null || more === null) return null;
    const removed = regionsOf(less, 'removed');
    const added = regionsOf(more, 'added');
    const found = [...added.connected, ...removed.connected];
    const empty = added.empty_mm3 + removed.empty_mm3;
    if (found.length === 0) return { regions: [], slivers_mm3: empty };
    const freed = freeOfFilms(kernel, found, bothSurfaces(before.mesh, after.mesh, thinnest_mm));
    return { ...freed, slivers_mm3: empty + freed.slivers_mm3 };
  });
}

/**
 * Tells material from what rounding left. A film may hang on any region, and it may outweigh it by far in area: so it
 * is the greatest depth that tells a region from a sliver, never its mean thickness alone. Those with most shallow
 * surface are freed from films first, since the time for that is bounded.
 */
function freeOfFilms(kernel: Kernel, found: readonly Connected[], surfaces: BothSurfaces): BothWays {
  const regions: MaterialRegion[] = [];
  const hung: { readonly region: MaterialRegion; readonly shallow_mm2: number }[] = [];
  let slivers_mm3 = 0;
  for (const { region, area_mm2 } of found) {
    const { deep, shallow_mm2 } = firstLook(region.mesh, surfaces);
    const thick = 2 * region.volume_mm3 >= surfaces.tolerance_mm * area_mm2;
    if (!thick && !deep) slivers_mm3 += region.volume_mm3;
    else if (shallow_mm2 === 0) regions.push(region);
    else hung.push({ region, shallow_mm2 });
  }
  hung.sort((p, q) => q.shallow_mm2 - p.shallow_mm2);
  let left: number = defaults.filmVisits;
  for (const { region } of hung) {
    const visits = { left: Math.floor(left / 2) };
    if (visits.left < defaults.leastFilmVisits) {
      regions.push(region);
      continue;
    }
    left -= visits.left;
    const freed = withoutFilms(kernel, region, surfaces, visits);
    left += visits.left;
    regions.push(...freed.regions);
    slivers_mm3 += freed.films_mm3;
  }
  return { regions, slivers_mm3 };
}
