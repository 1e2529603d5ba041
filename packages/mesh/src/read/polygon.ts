import { orient2d } from 'robust-predicates';

/** Corners of a polygon that are cut into triangles; the work grows with their square. */
export const mostPolygonCorners = 4096;

/**
 * Cuts a polygon of `count` corners (x, y, z each in `points`) into `count − 2` triangles by ear clipping in the
 * plane it lies in (Newell's normal, along the axis it is closest to), with exact orientation tests.
 *
 * Concave polygons and corners on a straight edge come out right; the latter may leave triangles without area, so
 * that neighboring faces still share every edge. `forced` says that the outline crosses itself, so that no right
 * answer exists and one was made up that at least keeps the outline's edges.
 *
 * @returns corner numbers, three to a triangle, in the polygon's own turning sense.
 */
export function triangulatePolygon(
  points: Float64Array,
  count: number,
): { corners: number[]; forced: boolean } {
  const flat = project(points, count);
  return isFan(flat, count) ? { corners: fan(count), forced: false } : clipEars(flat, count);
}

/** The polygon in the plane of two axes, turned so that it runs counter-clockwise. */
function project(points: Float64Array, count: number): Float64Array {
  let nx = 0;
  let ny = 0;
  let nz = 0;
  for (let i = 0, j = 3 * count - 3; i < 3 * count; j = i, i += 3) {
    // About the first corner, so that a far place costs no digits.
    const [ax, ay, az] = [points[j] - points[0], points[j + 1] - points[1], points[j + 2] - points[2]];
    const [bx, by, bz] = [points[i] - points[0], points[i + 1] - points[1], points[i + 2] - points[2]];
    nx += (ay - by) * (az + bz);
    ny += (az - bz) * (ax + bx);
    nz += (ax - bx) * (ay + by);
  }
  const [sx, sy, sz] = [Math.abs(nx), Math.abs(ny), Math.abs(nz)];
  const drop = sz >= sx && sz >= sy ? 2 : sy >= sx ? 1 : 0;
  const along = drop === 2 ? nz : drop === 1 ? ny : nx;
  const u = (drop + 1) % 3;
  const v = (drop + 2) % 3;
  const flat = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    flat[2 * i] = along < 0 ? points[3 * i + v] : points[3 * i + u];
    flat[2 * i + 1] = along < 0 ? points[3 * i + u] : points[3 * i + v];
  }
  return flat;
}

/** Positive when a, b, c turn left. */
function turn(flat: Float64Array, a: number, b: number, c: number): number {
  // The predicate's y axis points down.
  return -orient2d(flat[2 * a], flat[2 * a + 1], flat[2 * b], flat[2 * b + 1], flat[2 * c], flat[2 * c + 1]);
}

/** True when the polygon is convex, so that all triangles about its first corner are inside. */
function isFan(flat: Float64Array, count: number): boolean {
  for (let i = 0; i < count; i++) {
    if (!(turn(flat, i, (i + 1) % count, (i + 2) % count) > 0)) return false;
    if (i > 0 && i < count - 1 && !(turn(flat, 0, i, i + 1) > 0)) return false;
  }
  return true;
}

function fan(count: number): number[] {
  const corners: number[] = [];
  for (let i = 1; i < count - 1; i++) corners.push(0, i, i + 1);
  return corners;
}

function clipEars(flat: Float64Array, count: number): { corners: number[]; forced: boolean } {
  const next = Int32Array.from({ length: count }, (_, i) => (i + 1) % count);
  const previous = Int32Array.from({ length: count }, (_, i) => (i + count - 1) % count);
  const corners: number[] = [];
  let forced = false;
  let at = 0;
  let misses = 0;
  // First honest ears; when a whole round finds none, corners on a straight line; then anything.
  let leniency = 0;
  for (let left = count; left > 3;) {
    const before = previous[at];
    const after = next[at];
    const bend = turn(flat, before, at, after);
    const ear =
      leniency === 2 || (leniency === 1 ? bend === 0 : bend > 0 && isEmpty(flat, before, at, after, next));
    if (ear) {
      corners.push(before, at, after);
      forced ||= leniency === 2;
      next[before] = after;
      previous[after] = before;
      left--;
      misses = 0;
      leniency = 0;
      at = next[after];
    } else {
      at = after;
      if (++misses > left) {
        misses = 0;
        leniency++;
      }
    }
  }
  corners.push(previous[at], at, next[at]);
  forced ||= turn(flat, previous[at], at, next[at]) < 0;
  return { corners, forced };
}

/** True when no other corner left lies in or on the triangle; corners at the same place as its own do not count. */
function isEmpty(flat: Float64Array, a: number, b: number, c: number, next: Int32Array): boolean {
  for (let p = next[c]; p !== a; p = next[p]) {
    if (samePlace(flat, p, a) || samePlace(flat, p, b) || samePlace(flat, p, c)) continue;
    if (turn(flat, a, b, p) >= 0 && turn(flat, b, c, p) >= 0 && turn(flat, c, a, p) >= 0) return false;
  }
  return true;
}

function samePlace(flat: Float64Array, a: number, b: number): boolean {
  return flat[2 * a] === flat[2 * b] && flat[2 * a + 1] === flat[2 * b + 1];
}
