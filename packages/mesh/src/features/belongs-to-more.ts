import type { Mesh } from '../types.ts';
import type { FaceNormals } from '../face-normals.ts';
import type { ProfiledRound } from './join-pieces.ts';
import { farCorner } from './planar-patches.ts';
import { forEachRimEdge } from './rim-edges.ts';
import type { RoundRegion } from './round-region.ts';

/** Bends up to these count as running on smoothly: beyond an end, beyond a side (half of the widest flat). */
const cosEnd = Math.cos((40 * Math.PI) / 180);
const cosSide = Math.cos((32 * Math.PI) / 180);
/** Shorter than this share of its diameter, a surface that runs on smoothly at both ends is no cylinder of its own. */
const shortBand = 0.5;
/** The same for exact flat strips, which chance makes less often. */
const shortFacetedBand = 0.15;

/**
 * Whether a region is only a ring of a ball, a bent tube or another doubly curved surface: it runs on smoothly at
 * both ends, and is short, or made of facets no longer than those beyond its ends.
 */
export function isBand(
  mesh: Mesh,
  neighbors: Int32Array,
  { normals }: FaceNormals,
  region: RoundRegion,
): boolean {
  const { axis, point, radius } = region.cylinder;
  const { positions: p } = mesh;
  let low = Infinity;
  let high = -Infinity;
  for (const vertex of region.vertices) {
    const at = 3 * vertex;
    const height =
      (p[at] - point[0]) * axis[0] + (p[at + 1] - point[1]) * axis[1] + (p[at + 2] - point[2]) * axis[2];
    if (height < low) low = height;
    if (height > high) high = height;
  }
  const length = high - low;
  if (!(length > 0)) return true;
  const ends = [0, 0];
  const smooth = [0, 0];
  const banded = [0, 0];
  forEachRimEdge(mesh, neighbors, normals, region, edge => {
    if (edge.along > 0.7) return;
    const end = edge.height > (low + high) / 2 ? 1 : 0;
    ends[end] += edge.length;
    if (edge.agree <= cosEnd) return;
    smooth[end] += edge.length;
    if (widthBeyond(mesh, edge.beyond, edge.from, edge.to) >= length / 2) banded[end] += edge.length;
  });
  const mostly = (part: readonly number[]) => ends.every((whole, end) => whole > 0 && part[end] > whole / 2);
  const faceted = region.spans.length > 0;
  if (faceted && mostly(banded)) return true;
  return mostly(smooth) && length < (faceted ? shortFacetedBand : shortBand) * 2 * radius;
}

/** Whether a part of a turn runs on smoothly at its sides: a fillet, or the end of a slot. */
export function isBlend(
  mesh: Mesh,
  neighbors: Int32Array,
  { normals }: FaceNormals,
  round: ProfiledRound,
): boolean {
  let sides = 0;
  let blended = 0;
  forEachRimEdge(mesh, neighbors, normals, round.region, edge => {
    if (edge.along <= 0.7) return;
    sides += edge.length;
    if (edge.agree > cosSide) blended += edge.length;
  });
  return blended > sides / 2;
}

/** Distance of the far corner of face g from the edge a–b. */
function widthBeyond({ positions: p, triangles: t }: Mesh, g: number, a: number, b: number): number {
  const c = farCorner(t, g, a, b);
  const side = [0, 1, 2].map(k => p[3 * b + k] - p[3 * a + k]);
  const reach = [0, 1, 2].map(k => p[3 * c + k] - p[3 * a + k]);
  const square = side[0] * side[0] + side[1] * side[1] + side[2] * side[2];
  const s = (reach[0] * side[0] + reach[1] * side[1] + reach[2] * side[2]) / square;
  return Math.hypot(reach[0] - s * side[0], reach[1] - s * side[1], reach[2] - s * side[2]);
}
