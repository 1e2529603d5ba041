import {
  area,
  buildTree,
  closestHit,
  closestPoint,
  distanceSqToTriangle,
  faceNormals,
  raycast,
  rayHit,
  type Mesh,
  type TriangleTree,
} from '@kinprint/mesh';
import { within, pointOf } from '../difference/deep-surface.ts';
import type { Corners, Point } from '../difference/both-surfaces.ts';
import { defaults } from '../defaults.ts';

export interface Depth {
  /** Attained at a point of the region's surface. */
  readonly least_mm: number;
  /** No point is deeper. */
  readonly most_mm: number;
}

/**
 * How deep two solids reach into each other at a region that both claim: the greatest distance of a point of the
 * region's surface, which is a piece of one solid's surface, from the surface of the other.
 *
 * Branch and bound over the triangles. Over a triangle the distance is no more than that of its middle and its radius
 * (it is 1-Lipschitz), and no more than the distance of its corners from any one face (a convex set).
 *
 * @param trees of the two surfaces
 */
export function depthOf(region: Mesh, trees: readonly [TriangleTree, TriangleTree]): Depth {
  const { positions, triangles } = region;
  const open: (readonly [Corners, 0 | 1])[] = [];
  let least = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const corners: Corners = [
      pointOf(positions, triangles[i]),
      pointOf(positions, triangles[i + 1]),
      pointOf(positions, triangles[i + 2]),
    ];
    for (const s of [0, 1] as const) {
      least = Math.max(least, distance(trees[s], within(corners, 1 / 3, 1 / 3, 1 / 3)));
      open.push([corners, s]);
    }
  }
  let most = least;
  let visits: number = defaults.depthVisits;
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [corners, s] = next;
    const middle = within(corners, 1 / 3, 1 / 3, 1 / 3);
    const found = distance(trees[s], middle);
    least = Math.max(least, found);
    const radius = Math.max(...corners.map(corner => apart(corner, middle)));
    const bound = Math.min(found + radius, farthestFromFace(corners, trees[s], hit.slot));
    if (bound <= least * (1 + defaults.depthShare)) {
      most = Math.max(most, bound);
    } else if (visits-- > 0) {
      for (const half of halves(corners)) open.push([half, s]);
    } else most = Math.max(most, bound);
  }
  return { least_mm: least, most_mm: Math.max(least, most) };
}

/**
 * The same, also where the surfaces of both coincide all around the region (one part placed twice at one place): then
 * none of its surface lies inside the other, and the middles of chords across it tell how deep it is.
 *
 * @param volume_mm3 of the region
 */
export function depthOrHalfThickness(
  region: Mesh,
  volume_mm3: number,
  trees: readonly [TriangleTree, TriangleTree],
): Depth {
  const depth = depthOf(region, trees);
  // Half the mean thickness. Where surfaces do not coincide the depth is about twice that, or more.
  if (depth.least_mm > volume_mm3 / area(region)) return depth;
  const own = buildTree(region);
  const { normals } = faceNormals(region);
  const { positions, triangles } = region;
  const chord = rayHit();
  let [least, most] = [depth.least_mm, depth.most_mm];
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [0, 1, 2].map(k => pointOf(positions, triangles[i + k])) as unknown as Corners;
    const from = within(corners, 1 / 3, 1 / 3, 1 / 3);
    const [nx, ny, nz] = [-normals[i], -normals[i + 1], -normals[i + 2]];
    raycast(own, ...from, nx, ny, nz, chord, Infinity, i / 3);
    if (chord.face < 0) continue;
    const half = chord.t / 2;
    const middle: Point = [from[0] + half * nx, from[1] + half * ny, from[2] + half * nz];
    least = Math.max(least, distance(trees[0], middle), distance(trees[1], middle));
    most = Math.max(most, half);
  }
  return { least_mm: least, most_mm: Math.max(least, most) };
}

const hit = closestHit();

/** Leaves the face found in `hit`. */
function distance(tree: TriangleTree, [x, y, z]: Point): number {
  closestPoint(tree, x, y, z, hit);
  return Math.sqrt(hit.distanceSq);
}

function farthestFromFace(corners: Corners, { vertices, corners: of }: TriangleTree, slot: number): number {
  if (slot < 0) return Infinity;
  const [a, b, c] = [3 * of[3 * slot], 3 * of[3 * slot + 1], 3 * of[3 * slot + 2]];
  return Math.sqrt(Math.max(...corners.map(([x, y, z]) => distanceSqToTriangle(vertices, a, b, c, x, y, z))));
}

function halves(corners: Corners): readonly [Corners, Corners] {
  const [a, b, c] = corners;
  const [bc, ca, ab] = [apart(b, c), apart(c, a), apart(a, b)];
  const apex = bc >= ca && bc >= ab ? 0 : ca >= ab ? 1 : 2;
  const [top, p, q] = [corners[apex], corners[(apex + 1) % 3], corners[(apex + 2) % 3]];
  const half: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
  return [
    [top, p, half],
    [top, half, q],
  ];
}

function apart(p: Point, q: Point): number {
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}
