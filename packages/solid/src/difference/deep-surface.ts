import type { Bounds, Mesh } from '@kinprint/mesh';
import { diagonalOf } from '../extent.ts';
import { both, isDeep, nearAllOver, nearOnes } from './both-surfaces.ts';
import type { BothSurfaces, Corners, Point, Surfaces } from './both-surfaces.ts';

/** How many triangles may still be bisected. When none are left, the rest is taken as it is: bounds the time. */
export interface Visits {
  left: number;
}

/** Finest triangle, as a share of the diagonal of the box around the deep corners and middles. */
const finest = 1 / 100;

/**
 * That part of a region's surface which lies deeper than the tolerance below or above one of the two surfaces, as
 * loose triangles. Triangles that are deep in part are bisected until they are small (a hundredth of the extent of
 * the deep corners and middles, but no smaller than the tolerance) and then kept whole.
 */
export function deepSurface(region: Mesh, surfaces: BothSurfaces, visits: Visits): Mesh {
  const found: number[] = [];
  const take = ([a, b, c]: Corners): number => found.push(...a, ...b, ...c);
  collectAll(region, surfaces, deepCorners(region, surfaces), visits, { adds: () => true, take });
  const positions = Float64Array.from(found);
  return { positions, triangles: Uint32Array.from({ length: found.length / 3 }, (_, v) => v) };
}

/** The bounds of the deep surface, found much faster: what lies within those known so far is passed over. */
export function deepBounds(region: Mesh, surfaces: BothSurfaces, visits: Visits): Bounds | null {
  const corners = deepCorners(region, surfaces);
  const { min, max } = corners;
  collectAll(region, surfaces, corners, visits, {
    adds: piece => piece.some(corner => corner.some((value, k) => value < min[k] || value > max[k])),
    take: piece => {
      for (const corner of piece) grow(corners, corner);
    },
  });
  return min[0] > max[0] ? null : { min, max };
}

/** What is done with the deep pieces. */
interface Sink {
  /** False for a piece that need not be looked at. */
  adds(corners: Corners): boolean;
  take(corners: Corners): void;
}

interface Box {
  readonly min: [number, number, number];
  readonly max: [number, number, number];
}

interface DeepCorners extends Box {
  /** Per vertex: 1 when deep. */
  readonly deep: Uint8Array;
}

/** Middles count too: of a new bore in a plate every corner lies on both surfaces. */
function deepCorners({ positions, triangles }: Mesh, surfaces: BothSurfaces): DeepCorners {
  const deep = new Uint8Array(positions.length / 3);
  const box: Box = { min: [Infinity, Infinity, Infinity], max: [-Infinity, -Infinity, -Infinity] };
  for (const v of new Set(triangles)) {
    const point = pointOf(positions, v);
    if (!isDeep(point, surfaces, both)) continue;
    deep[v] = 1;
    grow(box, point);
  }
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    const corners: Corners = [pointOf(positions, a), pointOf(positions, b), pointOf(positions, c)];
    const middle = within(corners, 1 / 3, 1 / 3, 1 / 3);
    if (isDeep(middle, surfaces, both)) grow(box, middle);
  }
  return { ...box, deep };
}

function grow({ min, max }: Box, point: Point): void {
  for (let k = 0; k < 3; k++) {
    if (point[k] < min[k]) min[k] = point[k];
    if (point[k] > max[k]) max[k] = point[k];
  }
}

interface Search extends Sink {
  readonly surfaces: BothSurfaces;
  readonly least: number;
  readonly visits: Visits;
}

function collectAll(
  region: Mesh,
  surfaces: BothSurfaces,
  { deep, ...box }: DeepCorners,
  visits: Visits,
  sink: Sink,
): void {
  const { positions, triangles } = region;
  const extent = box.min[0] > box.max[0] ? 0 : diagonalOf(box);
  const least = Math.max(surfaces.tolerance_mm, finest * extent);
  const search: Search = { ...sink, surfaces, least, visits };
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    const corners: Corners = [pointOf(positions, a), pointOf(positions, b), pointOf(positions, c)];
    collect(search, corners, [deep[a], deep[b], deep[c]], both);
  }
}

/**
 * Hands over the deep parts of a triangle.
 *
 * @param deep for each corner whether it is
 * @param from the surfaces that the triangle may be deep below or above; it is shallow as to the others
 */
function collect(
  search: Search,
  corners: Corners,
  deep: readonly [number, number, number],
  from: Surfaces,
): void {
  const { surfaces, least } = search;
  if (!search.adds(corners)) return;
  const near = nearOnes(within(corners, 1 / 3, 1 / 3, 1 / 3), surfaces, from);
  const open = (from & ~nearAllOver(corners, surfaces, near)) as Surfaces;
  if (open === 0) return;
  const [a, b, c] = corners;
  const [bc, ca, ab] = [distanceSq(b, c), distanceSq(c, a), distanceSq(a, b)];
  const longest = bc >= ca && bc >= ab ? 0 : ca >= ab ? 1 : 2;
  const whole = Math.max(bc, ca, ab) <= least * least || search.visits.left <= 0;
  const depth = depthInside(corners, deep.includes(1), near !== from, surfaces, open, whole);
  if (depth === 'none') return;
  if (depth === 'all' || whole) {
    search.take(corners);
    return;
  }
  search.visits.left--;
  const next = (longest + 1) % 3;
  const last = (longest + 2) % 3;
  const [apex, p, q] = [corners[longest], corners[next], corners[last]];
  const half: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
  const deepHalf = isDeep(half, surfaces, open) ? 1 : 0;
  collect(search, [apex, p, half], [deep[longest], deep[next], deepHalf], open);
  collect(search, [apex, half, q], [deep[longest], deepHalf, deep[last]], open);
}

/**
 * How much of a triangle is deep, by its middle and a point near each corner: corners and edges themselves often lie
 * where both surfaces meet. Looks no further than needed to tell.
 *
 * @param anyCorner a deep corner rules out 'none'
 * @param whole no need to tell 'some' from 'all'
 */
function depthInside(
  corners: Corners,
  anyCorner: boolean,
  middle: boolean,
  surfaces: BothSurfaces,
  open: Surfaces,
  whole: boolean,
): 'none' | 'some' | 'all' {
  let any = anyCorner || middle;
  let all = middle;
  for (let k = 0; k < 3; k++) {
    if (any && (!all || whole)) return 'some';
    if (isDeep(nearCorner(corners, k), surfaces, open)) any = true;
    else all = false;
  }
  return !any ? 'none' : all ? 'all' : 'some';
}

/** A point near corner k, inside. */
export function nearCorner(corners: Corners, k: number): Point {
  return within(corners, k === 0 ? 0.98 : 0.01, k === 1 ? 0.98 : 0.01, k === 2 ? 0.98 : 0.01);
}

/** The point with the given barycentric coordinates. */
export function within([a, b, c]: Corners, u: number, v: number, w: number): Point {
  return [u * a[0] + v * b[0] + w * c[0], u * a[1] + v * b[1] + w * c[1], u * a[2] + v * b[2] + w * c[2]];
}

export function pointOf(positions: Mesh['positions'], v: number): Point {
  return [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
}

function distanceSq(p: Point, q: Point): number {
  return (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 + (p[2] - q[2]) ** 2;
}
