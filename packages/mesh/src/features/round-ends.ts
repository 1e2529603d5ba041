import type { Mesh, Vec3 } from '../types.ts';
import type { FaceNormals } from './face-normals.ts';
import { cross, dot, frameOf } from './frame.ts';
import type { LineQuery } from './line-query.ts';
import type { ProfiledRound } from './join-pieces.ts';

/**
 * Whether a bore is open at both ends. An end is closed when a floor crosses the axis within one diameter beyond it
 * (a drill point's cone included) and the rim turns inward, as a floor does; a rim that turns outward belongs to an
 * opening, whatever stands opposite. `null` when a rim cannot be judged because faces are missing there and no
 * floor is met.
 */
export function isThrough(
  mesh: Mesh,
  neighbors: Int32Array,
  { normals }: FaceNormals,
  { region, profile }: ProfiledRound,
  lines: LineQuery,
): boolean | null {
  const { axis, point, radius } = region.cylinder;
  const { u, v } = frameOf(axis);
  // Half a bore is looked along nearer to its surface, since its axis may lie in the plane that cut it.
  const off = profile.turn < 0.75 ? radius / 2 : 0;
  const c = off * Math.cos(profile.middle);
  const s = off * Math.sin(profile.middle);
  const middle = (profile.low + profile.high) / 2;
  const from = [0, 1, 2].map(k => point[k] + c * u[k] + s * v[k] + middle * axis[k]) as [
    number,
    number,
    number,
  ];
  const rims = rimsOf(mesh, neighbors, normals, { region, profile });
  let answer: boolean | null = true;
  for (const end of [1, -1] as const) {
    const direction: Vec3 = [end * axis[0], end * axis[1], end * axis[2]];
    const top = end === 1 ? profile.highRange[1] - middle : middle - profile.lowRange[0];
    const floor = lines.blocked(from, direction, top + 2 * radius);
    const rim = end === 1 ? rims.high : rims.low;
    const judged = rim.inward + rim.outward;
    if (floor && (judged <= rim.missing || rim.inward > rim.outward)) return false;
    if (judged <= rim.missing) answer = null;
  }
  return answer;
}

interface Rim {
  /** Lengths of rim, mm: turning inward (a floor), outward (an opening), with no face beyond. */
  inward: number;
  outward: number;
  missing: number;
}

function rimsOf(
  mesh: Mesh,
  neighbors: Int32Array,
  normals: Float64Array,
  { region, profile }: ProfiledRound,
): { low: Rim; high: Rim } {
  const { positions: p, triangles: t } = mesh;
  const { axis, point } = region.cylinder;
  const inside = new Set(region.faces);
  const low: Rim = { inward: 0, outward: 0, missing: 0 };
  const high: Rim = { inward: 0, outward: 0, missing: 0 };
  const reach = (profile.high - profile.low) / 4;
  for (const f of region.faces) {
    for (let k = 0; k < 3; k++) {
      const g = neighbors[3 * f + k];
      if (g >= 0 && inside.has(g)) continue;
      const a = 3 * t[3 * f + k];
      const b = 3 * t[3 * f + ((k + 1) % 3)];
      const edge: Vec3 = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const length = Math.hypot(edge[0], edge[1], edge[2]);
      if (!(length > 0) || Math.abs(dot(edge, axis)) > 0.95 * length) continue;
      const height = dot(
        [
          (p[a] + p[b]) / 2 - point[0],
          (p[a + 1] + p[b + 1]) / 2 - point[1],
          (p[a + 2] + p[b + 2]) / 2 - point[2],
        ],
        axis,
      );
      let rim: Rim | null = null;
      if (height >= profile.highRange[0] - reach) rim = high;
      else if (height <= profile.lowRange[1] + reach) rim = low;
      if (rim === null) continue;
      if (g < 0) {
        rim.missing += length;
        continue;
      }
      const n: Vec3 = [normals[3 * f], normals[3 * f + 1], normals[3 * f + 2]];
      const m: Vec3 = [normals[3 * g], normals[3 * g + 1], normals[3 * g + 2]];
      const bend = dot(cross(n, m), edge) / length;
      if (bend > 1e-3) rim.outward += length;
      else if (bend < -1e-3) rim.inward += length;
    }
  }
  return { low, high };
}
