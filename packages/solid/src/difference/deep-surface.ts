import { buildTree, closestHit, closestPoint, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { diagonalOf } from '../extent.ts';

type Point = readonly [number, number, number];
type Corners = readonly [Point, Point, Point];

/** The surfaces of both meshes, ready for distance queries. */
export interface BothSurfaces {
  readonly trees: readonly TriangleTree[];
  readonly tolerance_mm: number;
}

export function bothSurfaces(before: Mesh, after: Mesh, tolerance_mm: number): BothSurfaces {
  return { trees: [buildTree(before), buildTree(after)], tolerance_mm };
}

/** Triangles looked at per region before the rest is taken as it is: bounds the time. */
const visitsAllowed = 20_000;
/** Finest triangle, as a share of the diagonal of the box around the deep corners. */
const finest = 1 / 100;

/**
 * That part of a region's surface which lies deeper than the tolerance below or above one of the two surfaces, as
 * loose triangles. Triangles that are deep in part are bisected until they are small (a hundredth of the extent of
 * the deep corners, but no smaller than the tolerance) and then kept whole.
 */
export function deepSurface(region: Mesh, surfaces: BothSurfaces): Mesh {
  const { positions, triangles } = region;
  const deep = new Uint8Array(positions.length / 3);
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let v = 0; v < deep.length; v++) {
    const point = pointOf(positions, v);
    if (isShallow(point, surfaces)) continue;
    deep[v] = 1;
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], point[k]);
      max[k] = Math.max(max[k], point[k]);
    }
  }
  const extent = min[0] > max[0] ? 0 : diagonalOf({ min, max });
  const search: Search = {
    surfaces,
    least: Math.max(surfaces.tolerance_mm, finest * extent),
    found: [],
    visits: 0,
  };
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    const corners: Corners = [pointOf(positions, a), pointOf(positions, b), pointOf(positions, c)];
    collect(search, corners, [deep[a], deep[b], deep[c]]);
  }
  const found = Float64Array.from(search.found);
  return { positions: found, triangles: Uint32Array.from({ length: found.length / 3 }, (_, v) => v) };
}

interface Search {
  readonly surfaces: BothSurfaces;
  readonly least: number;
  /** 9 coordinates per triangle. */
  readonly found: number[];
  visits: number;
}

/** Adds the deep part of a triangle; `deep` tells for each corner whether it is. */
function collect(search: Search, corners: Corners, deep: readonly [number, number, number]): void {
  const { surfaces, least, found } = search;
  const [a, b, c] = corners;
  const deepInside = insidePoints(corners).filter(point => !isShallow(point, surfaces)).length;
  const anyDeep = deepInside > 0 || deep.includes(1);
  if (!anyDeep) return;
  const sides = [distance(b, c), distance(c, a), distance(a, b)];
  const longest = sides.indexOf(Math.max(...sides));
  if (deepInside === insidePointCount || sides[longest] <= least || search.visits >= visitsAllowed) {
    found.push(...a, ...b, ...c);
    return;
  }
  search.visits++;
  const next = (longest + 1) % 3;
  const last = (longest + 2) % 3;
  const [apex, p, q] = [corners[longest], corners[next], corners[last]];
  const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
  const deepMiddle = isShallow(middle, surfaces) ? 0 : 1;
  collect(search, [apex, p, middle], [deep[longest], deep[next], deepMiddle]);
  collect(search, [apex, middle, q], [deep[longest], deepMiddle, deep[last]]);
}

const insidePointCount = 4;

/** The middle, and a point near each corner: corners and edges themselves often lie where both surfaces meet. */
function insidePoints([a, b, c]: Corners): readonly Point[] {
  const at = (u: number, v: number, w: number): Point => [
    u * a[0] + v * b[0] + w * c[0],
    u * a[1] + v * b[1] + w * c[1],
    u * a[2] + v * b[2] + w * c[2],
  ];
  return [at(1 / 3, 1 / 3, 1 / 3), at(0.98, 0.01, 0.01), at(0.01, 0.98, 0.01), at(0.01, 0.01, 0.98)];
}

const hit = closestHit();

function isShallow([x, y, z]: Point, { trees, tolerance_mm }: BothSurfaces): boolean {
  return trees.every(tree => {
    closestPoint(tree, x, y, z, hit, tolerance_mm * tolerance_mm);
    return hit.face >= 0;
  });
}

function pointOf(positions: Mesh['positions'], v: number): Point {
  return [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
}

function distance(p: Point, q: Point): number {
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}
