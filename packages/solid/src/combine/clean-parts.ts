import { bounds, type Bounds, type Mesh } from '@kinprint/mesh';
import { fromManifold, toManifold } from '../convert.ts';
import { defaults } from '../defaults.ts';
import { regionsOf } from '../difference/regions.ts';
import type { MaterialRegion } from '../difference/types.ts';
import { frameOf, type Frame } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { grown } from './grow.ts';
import { tidied } from './tidied.ts';

/**
 * The changed pieces as solids to cut and add with.
 *
 * A piece as the difference leaves it ends on the base's surface, where rounding makes films. So it is taken between
 * offset surfaces: what is removed lies below the base moved out by a quarter of the tolerance and above the remix moved
 * out by the whole; what is added above the base moved out by a quarter and below the remix moved in by the whole.
 * Between the two nothing thinner than the tolerance is left. Moved back by the whole (`grown`), a part ends where the
 * remix does, and goes through the base's surface cleanly.
 *
 * @returns per region its parts, not yet moved back; the region's own mesh where offsetting left nothing of it
 */
export function cleanParts(
  kernel: Kernel,
  base: Mesh,
  remix: Mesh,
  regions: readonly MaterialRegion[],
  tolerance_mm: number,
): (readonly Mesh[])[] {
  if (regions.length === 0) return [];
  const frame = frameOf(base, remix);
  const outside = grown(base, defaults.offsetShare * tolerance_mm);
  const parts: Mesh[][] = regions.map(() => []);
  for (const kind of ['removed', 'added'] as const) {
    if (!regions.some(region => region.kind === kind)) continue;
    const found = withSolids(keep => {
      const solid = (mesh: Mesh) => keep(toManifold(kernel, mesh, frame));
      const difference =
        kind === 'removed'
          ? solid(outside).subtract(solid(grown(remix, tolerance_mm)))
          : solid(grown(remix, -tolerance_mm)).subtract(solid(outside));
      return tidied(fromManifold(keep(difference), frame), defaults.offsetShare * tolerance_mm);
    });
    for (const { region } of regionsOf(found, kind).connected) {
      const owner = ownerOf(kernel, region, regions, frame);
      if (owner >= 0) parts[owner].push(region.mesh);
    }
  }
  return parts.map((own, k) => (own.length > 0 ? own : [regions[k].mesh]));
}

/** The region that a part is most of; −1 for one that is no part of any. */
function ownerOf(
  kernel: Kernel,
  part: MaterialRegion,
  regions: readonly MaterialRegion[],
  frame: Frame,
): number {
  const box = bounds(part.mesh);
  const near = regions.flatMap((region, k) =>
    region.kind === part.kind && box !== null && meet(box, region.bounds_mm) ? [k] : [],
  );
  if (near.length === 0) return -1;
  return withSolids(keep => {
    const solid = (mesh: Mesh): KernelSolid => keep(toManifold(kernel, mesh, frame));
    const own = solid(part.mesh);
    let most = leastShare * own.volume();
    let owner = -1;
    for (const k of near) {
      const shared = keep(own.intersect(solid(regions[k].mesh))).volume();
      if (shared <= most) continue;
      most = shared;
      owner = k;
    }
    return owner;
  });
}

/** Of a part's volume: what only grazes a region belongs to none. Common practice, no source. */
const leastShare = 0.1;

function meet(p: Bounds, q: Bounds): boolean {
  return [0, 1, 2].every(k => p.min[k] <= q.max[k] && q.min[k] <= p.max[k]);
}
