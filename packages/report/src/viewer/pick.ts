import { isInside, raycast, rayHit, type TriangleTree, type Vec3 } from '@kinprint/mesh';
import { add, dot } from './vector.ts';

/** Material beyond the plane `normal · p = at` is cut away. */
export interface Cut {
  readonly normal: Vec3;
  readonly at: number;
}

export interface Ray {
  /** Before all that is shown. */
  readonly from: Vec3;
  /** Unit vector into the picture. */
  readonly along: Vec3;
}

/** A surface that can be picked. */
export interface Pickable {
  readonly tree: TriangleTree;
  /** Vertices of the mesh. */
  readonly positions: Float64Array | Float32Array;
  /** Whether a cut through it is filled. */
  readonly closed: boolean;
}

export interface Picked {
  readonly at_mm: Vec3;
  /** Whether it is a vertex of the mesh. */
  readonly snapped: boolean;
}

const hit = rayHit();

/**
 * The first point of what is shown that a ray meets, and the vertex that lies nearest to it, where one is within reach.
 *
 * @param reach_mm snaps to vertices not farther than this
 */
export function pick(
  { tree, positions, closed }: Pickable,
  ray: Ray,
  cut: Cut | null,
  reach_mm: number,
): Picked | null {
  const met = meet(tree, closed, ray, cut);
  if (met === null) return null;
  const vertex = nearestVertex(positions, met, cut, reach_mm);
  return vertex === null ? { at_mm: met, snapped: false } : { at_mm: vertex, snapped: true };
}

/** Where the ray meets what the cut leaves: the surface, or the face of the cut. */
function meet(tree: TriangleTree, closed: boolean, { from, along }: Ray, cut: Cut | null): Vec3 | null {
  let start = from;
  let most = Infinity;
  if (cut !== null) {
    const beyond = dot(cut.normal, from) - cut.at;
    const speed = dot(cut.normal, along);
    if (beyond > 0) {
      if (speed >= 0) return null;
      start = add(from, along, -beyond / speed);
      if (closed && isInside(tree, ...start)) return start;
    } else if (speed > 0) most = -beyond / speed;
  }
  raycast(tree, ...start, ...along, hit, most);
  return hit.face < 0 ? null : [hit.x, hit.y, hit.z];
}

function nearestVertex(
  p: Float64Array | Float32Array,
  [x, y, z]: Vec3,
  cut: Cut | null,
  reach_mm: number,
): Vec3 | null {
  let best = reach_mm * reach_mm;
  let found = -1;
  for (let k = 0; k < p.length; k += 3) {
    const [dx, dy, dz] = [p[k] - x, p[k + 1] - y, p[k + 2] - z];
    const distanceSq = dx * dx + dy * dy + dz * dz;
    if (distanceSq > best) continue;
    if (cut !== null && dot(cut.normal, [p[k], p[k + 1], p[k + 2]]) > cut.at) continue;
    best = distanceSq;
    found = k;
  }
  return found < 0 ? null : [p[found], p[found + 1], p[found + 2]];
}
