import type { Mesh, Vec3 } from '../types.ts';
import type { FaceNormals } from '../face-normals.ts';
import { frameOf } from './frame.ts';
import { forEachRimEdge } from './rim-edges.ts';
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
  const low: Rim = { inward: 0, outward: 0, missing: 0 };
  const high: Rim = { inward: 0, outward: 0, missing: 0 };
  const reach = (profile.high - profile.low) / 4;
  forEachRimEdge(mesh, neighbors, normals, region, edge => {
    if (edge.along > 0.95) return;
    let rim: Rim;
    if (edge.height >= profile.highRange[0] - reach) rim = high;
    else if (edge.height <= profile.lowRange[1] + reach) rim = low;
    else return;
    if (edge.beyond < 0) rim.missing += edge.length;
    else if (edge.bend > 1e-3) rim.outward += edge.length;
    else if (edge.bend < -1e-3) rim.inward += edge.length;
  });
  return { low, high };
}
