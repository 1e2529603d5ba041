import { createFloat64Welder, weldFloat64, type Mesh } from '@kinprint/mesh';
import { directions, lengths } from './directions.ts';

/**
 * A convex hull around some changed faces, of planes across fixed directions: per direction the least and the greatest
 * extent. All planes stand wider than need be by next to nothing, so that it holds every face, rounding included.
 */
export type Hull = Float64Array;

/** A mesh and which of its faces the other mesh does not have. */
export interface Unshared {
  readonly mesh: Mesh;
  /** Per face: 1 when the other mesh does not have it. */
  readonly unmatched: Uint8Array;
}

/**
 * One hull for all unmatched faces of both meshes that hang together by common places, at most `most` hulls; else one
 * hull for all. Null when a coordinate is no number.
 *
 * The unmatched faces of two closed surfaces are, those of one of them reversed, a closed cycle, and so are those of
 * each hull by themselves: outside the hulls the two surfaces enclose the same.
 */
export function hullsOf(sides: readonly Unshared[], most: number): readonly Hull[] | null {
  const welder = createFloat64Welder(1024);
  const parent: number[] = [];
  for (const { mesh, unmatched } of sides) {
    const { positions, triangles } = mesh;
    for (let f = 0; f < unmatched.length; f++) {
      if (unmatched[f] === 0) continue;
      let first = -1;
      for (let k = 0; k < 3; k++) {
        const v = 3 * triangles[3 * f + k];
        if (!Number.isFinite(positions[v] + positions[v + 1] + positions[v + 2])) return null;
        const place = weldFloat64(welder, positions[v], positions[v + 1], positions[v + 2]);
        if (place === parent.length) parent.push(place);
        if (first < 0) first = place;
        else unite(parent, first, place);
      }
    }
  }
  const hulls = new Map<number, Hull>();
  for (let place = 0; place < parent.length; place++) {
    const root = find(parent, place);
    let hull = hulls.get(root);
    if (hull === undefined) hulls.set(root, (hull = emptyHull()));
    extend(hull, welder.positions, 3 * place);
  }
  const found = [...hulls.values()];
  return (found.length > most ? [found.reduce(around)] : found).map(widened);
}

function emptyHull(): Hull {
  return new Float64Array(2 * directions.length).map((_, i) => (i % 2 === 0 ? Infinity : -Infinity));
}

function extend(hull: Hull, positions: Float64Array, i: number): void {
  for (let k = 0; k < directions.length; k++) {
    const at = along(k, positions, i);
    if (at < hull[2 * k]) hull[2 * k] = at;
    if (at > hull[2 * k + 1]) hull[2 * k + 1] = at;
  }
}

function around(p: Hull, q: Hull): Hull {
  return p.map((at, i) => (i % 2 === 0 ? Math.min(at, q[i]) : Math.max(at, q[i])));
}

function widened(hull: Hull): Hull {
  return hull.map((at, i) => at + (i % 2 === 0 ? -1e-12 : 1e-12) * Math.abs(at));
}

const flat = Float64Array.from(directions.flat());

function along(k: number, positions: Mesh['positions'], i: number): number {
  return flat[3 * k] * positions[i] + flat[3 * k + 1] * positions[i + 1] + flat[3 * k + 2] * positions[i + 2];
}

/** How far the point whose coordinates begin at `i` is outside a hull, at least; negative within. */
export function distanceToHull(hull: Hull, positions: Mesh['positions'], i: number): number {
  let most = -Infinity;
  for (let k = 0; k < directions.length; k++) {
    const at = along(k, positions, i);
    const beyond = Math.max(hull[2 * k] - at, at - hull[2 * k + 1]) / lengths[k];
    if (beyond > most) most = beyond;
  }
  return most;
}

/** The same for a whole face, whose corners' coordinates begin at `a`, `b` and `c`: some plane has all of it beyond. */
export function faceDistanceToHull(
  hull: Hull,
  positions: Mesh['positions'],
  a: number,
  b: number,
  c: number,
): number {
  let most = -Infinity;
  for (let k = 0; k < directions.length; k++) {
    const p = along(k, positions, a);
    const q = along(k, positions, b);
    const r = along(k, positions, c);
    const below = hull[2 * k] - Math.max(p, q, r);
    const above = Math.min(p, q, r) - hull[2 * k + 1];
    most = Math.max(most, Math.max(below, above) / lengths[k]);
  }
  return most;
}

function find(parent: number[], item: number): number {
  let at = item;
  while (parent[at] !== at) {
    parent[at] = parent[parent[at]];
    at = parent[at];
  }
  return at;
}

function unite(parent: number[], a: number, b: number): void {
  const p = find(parent, a);
  const q = find(parent, b);
  if (p < q) parent[q] = p;
  else parent[p] = q;
}
