import type { Mesh, Vec3 } from '../types.ts';
import type { FaceNormals } from './face-normals.ts';
import { dot } from './frame.ts';
import type { ProfiledRound } from './join-pieces.ts';
import { farCorner } from './planar-patches.ts';

export interface BelievableOptions {
  /** Least share of the turn. */
  readonly minTurn: number;
  /** Below this share a round surface that runs on smoothly at its sides is a fillet or the end of a slot. */
  readonly fullTurn: number;
}

const cosBlend = Math.cos((32 * Math.PI) / 180);
const cosBand = Math.cos((40 * Math.PI) / 180);

/**
 * Whether a round region is a bore or pin of its own, rather than a fillet, the end of a slot, or one ring of facets
 * of a ball, ring or other doubly curved surface.
 */
export function isBelievable(
  mesh: Mesh,
  neighbors: Int32Array,
  { normals }: FaceNormals,
  { region, profile }: ProfiledRound,
  options: BelievableOptions,
): boolean {
  if (profile.turn < options.minTurn) return false;
  const { positions: p, triangles: t } = mesh;
  const { axis, point } = region.cylinder;
  const inside = new Set(region.faces);
  const length = profile.high - profile.low;
  const middle = (profile.high + profile.low) / 2;
  if (!(length > 0)) return false;
  let sides = 0;
  let blended = 0;
  const ends = [0, 0];
  const banded = [0, 0];
  for (const f of region.faces) {
    for (let k = 0; k < 3; k++) {
      const g = neighbors[3 * f + k];
      if (g >= 0 && inside.has(g)) continue;
      const from = t[3 * f + k];
      const to = t[3 * f + ((k + 1) % 3)];
      const a = 3 * from;
      const b = 3 * to;
      const edge: Vec3 = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const size = Math.hypot(edge[0], edge[1], edge[2]);
      if (!(size > 0)) continue;
      const agree =
        g < 0
          ? -1
          : dot(
              [normals[3 * f], normals[3 * f + 1], normals[3 * f + 2]],
              [normals[3 * g], normals[3 * g + 1], normals[3 * g + 2]],
            );
      if (Math.abs(dot(edge, axis)) > 0.7 * size) {
        sides += size;
        if (agree > cosBlend) blended += size;
        continue;
      }
      const height = dot([p[a] - point[0], p[a + 1] - point[1], p[a + 2] - point[2]], axis);
      const end = height > middle ? 1 : 0;
      ends[end] += size;
      if (agree > cosBand && widthBeyond(mesh, g, from, to) >= length / 2) banded[end] += size;
    }
  }
  if (profile.turn < options.fullTurn && blended > sides / 2) return false;
  const isBand = (end: number) => ends[end] > 0 && banded[end] > ends[end] / 2;
  return !(region.spans.length > 0 && isBand(0) && isBand(1));
}

/** Distance of the far corner of face g from the edge a–b. */
function widthBeyond({ positions: p, triangles: t }: Mesh, g: number, a: number, b: number): number {
  const c = 3 * farCorner(t, g, a, b);
  const e: Vec3 = [p[3 * b] - p[3 * a], p[3 * b + 1] - p[3 * a + 1], p[3 * b + 2] - p[3 * a + 2]];
  const d: Vec3 = [p[c] - p[3 * a], p[c + 1] - p[3 * a + 1], p[c + 2] - p[3 * a + 2]];
  const s = dot(d, e) / dot(e, e);
  return Math.hypot(d[0] - s * e[0], d[1] - s * e[1], d[2] - s * e[2]);
}
