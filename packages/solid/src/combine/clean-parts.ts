import { bounds, type Bounds, type Mesh, type Vec3 } from '@kinprint/mesh';
import { bodyOf } from '../body.ts';
import { fromManifold, surfaceToManifold, toManifold } from '../convert.ts';
import { defaults } from '../defaults.ts';
import { coarseLike, coarsenShared, withinHulls, type Coarse } from '../difference/coarsen.ts';
import { regionsOf } from '../difference/regions.ts';
import { snapOnto } from '../difference/snap.ts';
import type { MaterialRegion } from '../difference/types.ts';
import { frameOf, type Frame } from '../frame.ts';
import { withSolids, type Kernel, type KernelSolid } from '../kernel.ts';
import { windingNumber } from '../winding.ts';
import { farthest, grown } from './grow.ts';
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
 * @param tolerance_mm the offset: the tolerance, or more of it
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
  const coarse = coarsePair(base, remix, tolerance_mm);
  const outside = grown(base, defaults.offsetShare * tolerance_mm);
  const parts: Mesh[][] = regions.map(() => []);
  for (const kind of ['removed', 'added'] as const) {
    if (!regions.some(region => region.kind === kind)) continue;
    const offset = grown(remix, kind === 'removed' ? tolerance_mm : -tolerance_mm);
    const difference =
      (coarse && coarseDifference(kernel, outside, offset, kind, coarse)) ??
      differenceOf(kernel, outside, offset, kind, toManifold);
    const found = tidied(difference, defaults.offsetShare * tolerance_mm);
    for (const { region } of regionsOf(found, kind).connected) {
      const owner = ownerOf(region, regions, tolerance_mm);
      if (owner >= 0) parts[owner].push(region.mesh);
    }
  }
  return parts.map((own, k) => (own.length > 0 ? own : [regions[k].mesh]));
}

/** How what both meshes share becomes coarse; null where it cannot be, or would not help. */
function coarsePair(base: Mesh, remix: Mesh, tolerance_mm: number): Coarse | null {
  if (base.triangles.length + remix.triangles.length < 3 * defaults.wholeBelowFaces) return null;
  const meshes = [base, remix];
  const bodies = meshes.map(bodyOf);
  // Faces that were turned or dropped for a body, or may overlap, have no counterpart to be coarse with.
  if (bodies.some((body, k) => body?.mesh !== meshes[k] || body.groupOf !== null)) return null;
  const { unmatched } = snapOnto(base, remix, 0);
  return coarsenShared(
    [
      { mesh: base, unmatched: unmatched.before },
      { mesh: remix, unmatched: unmatched.after },
    ],
    farthest * tolerance_mm,
  );
}

/** The difference of offset surfaces, coarse where both meshes are alike; null where that cannot be told apart. */
function coarseDifference(
  kernel: Kernel,
  outside: Mesh,
  offset: Mesh,
  kind: MaterialRegion['kind'],
  coarse: Coarse,
): Mesh | null {
  const [base, remix] = coarse.sides;
  const found = differenceOf(
    kernel,
    coarseLike(base, outside),
    coarseLike(remix, offset),
    kind,
    surfaceToManifold,
  );
  // Offset surfaces stand a little out of the hulls, and far from the first coarse face.
  return withinHulls(found, coarse, coarse.clear_mm / 2);
}

function differenceOf(
  kernel: Kernel,
  outside: Mesh,
  offset: Mesh,
  kind: MaterialRegion['kind'],
  load: (kernel: Kernel, mesh: Mesh, frame: Frame) => KernelSolid,
): Mesh {
  const frame = frameOf(outside, offset);
  return withSolids(keep => {
    const [base, remix] = [outside, offset].map(mesh => keep(load(kernel, mesh, frame)));
    return fromManifold(keep(kind === 'removed' ? base.subtract(remix) : remix.subtract(base)), frame);
  });
}

/** The region that a part lies in; −1 for one that lies in none. */
function ownerOf(part: MaterialRegion, regions: readonly MaterialRegion[], tolerance_mm: number): number {
  const box = bounds(part.mesh);
  const near = regions.flatMap((region, k) =>
    region.kind === part.kind && box !== null && meet(box, region.bounds_mm) ? [k] : [],
  );
  const points = near.length === 0 ? [] : pointsWithin(part.mesh, tolerance_mm / 2);
  let most = leastShare * points.length;
  let owner = -1;
  for (const k of near) {
    const inside = points.filter(point => windingNumber(regions[k].mesh, point) > 0.5).length;
    if (inside <= most) continue;
    most = inside;
    owner = k;
  }
  return owner;
}

/** Of the points looked at: what only grazes a region belongs to none. Common practice, no source. */
const leastShare = 0.25;

/** Points a little beneath the middles of the largest faces. */
function pointsWithin(mesh: Mesh, depth_mm: number): Vec3[] {
  const { positions: p, triangles } = mesh;
  const faces = Array.from({ length: triangles.length / 3 }, (_, f) => {
    const [a, b, c] = [3 * triangles[3 * f], 3 * triangles[3 * f + 1], 3 * triangles[3 * f + 2]];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n);
    const at = (k: 0 | 1 | 2) => (p[a + k] + p[b + k] + p[c + k]) / 3 - (depth_mm * n[k]) / (length || 1);
    return { length, point: [at(0), at(1), at(2)] as const };
  });
  faces.sort((f, g) => g.length - f.length);
  return faces.slice(0, 16).map(({ point }) => point);
}

function meet(p: Bounds, q: Bounds): boolean {
  return [0, 1, 2].every(k => p.min[k] <= q.max[k] && q.min[k] <= p.max[k]);
}
