import type { Affine, Mesh, Vec3 } from '@kinprint/mesh';

/** A motion with one factor that carries every corner of a mesh onto the same corner of another. */
export interface OrderedFit {
  readonly matrix: Affine;
  /** Exactly 1 where nothing was scaled. */
  readonly scale: number;
  /** Every corner lies where it lay. */
  readonly still: boolean;
}

/**
 * Where two meshes list the same triangles in the same order, as a program leaves them that moves, turns or scales a
 * part: the map between them, told from three corners and tested on all. Takes a hundredth of an alignment. null where
 * there is none; mirror images are left to the alignment, as many a shape is its own.
 *
 * @param scaledFrom a factor nearer to 1 than this counts as 1
 */
export function sameOrderFit(from: Mesh, to: Mesh, within_mm: number, scaledFrom: number): OrderedFit | null {
  const { triangles } = from;
  if (triangles.length !== to.triangles.length || from.positions.length !== to.positions.length) return null;
  if (!triangles.every((corner, k) => corner === to.triangles[k])) return null;
  const corners = farCorners(from);
  if (corners === null) return null;
  const [a, b] = [frameAt(from, corners), frameAt(to, corners)];
  if (a === null || b === null) return null;
  const factor = b.length / a.length;
  const scale = Math.abs(Math.log(factor)) > scaledFrom ? factor : 1;
  const rows = [0, 1, 2].map(row => {
    const linear = [0, 1, 2].map(
      column => factor * a.axes.reduce((sum, axis, k) => sum + b.axes[k][row] * axis[column], 0),
    );
    const moved = linear.reduce((sum, value, k) => sum + value * a.origin[k], 0);
    return [linear[0], linear[1], linear[2], b.origin[row] - moved] as const;
  });
  const matrix: Affine = [rows[0], rows[1], rows[2], [0, 0, 0, 1]];
  let still = true;
  for (let v = 0; v < from.positions.length; v += 3) {
    const [p, q] = [pointOf(from, v / 3), pointOf(to, v / 3)];
    const carried = rows.map(([x, y, z, t]) => x * p[0] + y * p[1] + z * p[2] + t);
    if (!(Math.hypot(carried[0] - q[0], carried[1] - q[1], carried[2] - q[2]) <= within_mm)) return null;
    if (still) still = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) <= within_mm;
  }
  return { matrix, scale, still };
}

/** Three corners far from each other and from one line. */
function farCorners(mesh: Mesh): readonly [number, number, number] | null {
  const count = mesh.positions.length / 3;
  if (count < 3) return null;
  const first = 0;
  const second = farthest(count, v => distance(pointOf(mesh, v), pointOf(mesh, first)));
  const [p, q] = [pointOf(mesh, first), pointOf(mesh, second)];
  const along = unit(minus(q, p));
  if (along === null) return null;
  const third = farthest(count, v => length(cross(along, minus(pointOf(mesh, v), p))));
  return [first, second, third];
}

interface Frame {
  readonly origin: Vec3;
  readonly axes: readonly [Vec3, Vec3, Vec3];
  /** Between the first two corners. */
  readonly length: number;
}

function frameAt(mesh: Mesh, [i, j, k]: readonly [number, number, number]): Frame | null {
  const [origin, p, q] = [pointOf(mesh, i), pointOf(mesh, j), pointOf(mesh, k)];
  const x = unit(minus(p, origin));
  const z = x === null ? null : unit(cross(x, minus(q, origin)));
  return x === null || z === null ? null : { origin, axes: [x, cross(z, x), z], length: distance(p, origin) };
}

function farthest(count: number, measure: (vertex: number) => number): number {
  let [best, most] = [0, -1];
  for (let v = 0; v < count; v++) {
    const value = measure(v);
    if (value > most) [best, most] = [v, value];
  }
  return best;
}

function pointOf({ positions }: Mesh, vertex: number): Vec3 {
  return [positions[3 * vertex], positions[3 * vertex + 1], positions[3 * vertex + 2]];
}

function minus(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function length(a: Vec3): number {
  return Math.hypot(...a);
}

function distance(a: Vec3, b: Vec3): number {
  return length(minus(a, b));
}

function unit(a: Vec3): Vec3 | null {
  const by = length(a);
  return by > 0 && Number.isFinite(by) ? [a[0] / by, a[1] / by, a[2] / by] : null;
}
