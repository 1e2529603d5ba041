import type { Mesh } from '../types.ts';
import type { RoundRegion } from './round-region.ts';

/** One edge of a round region's border. */
export interface RimEdge {
  /** Vertices in the direction of the region's face. */
  from: number;
  to: number;
  length: number;
  /** Cosine of the angle to the axis, 0…1: near 1 along the sides, near 0 at the ends. */
  along: number;
  /** Height of the middle along the axis from the cylinder's point, mm. */
  height: number;
  /** Face beyond, −1 for none. */
  beyond: number;
  /** Cosine between the normals on both sides, and sine: positive where the surface turns outward. */
  agree: number;
  bend: number;
}

/** Calls `visit` with every border edge of the region; the same object each time. */
export function forEachRimEdge(
  { positions: p, triangles: t }: Mesh,
  neighbors: Int32Array,
  normals: Float64Array,
  region: RoundRegion,
  visit: (edge: RimEdge) => void,
): void {
  const { axis, point } = region.cylinder;
  const inside = new Set(region.faces);
  const edge: RimEdge = { from: 0, to: 0, length: 0, along: 0, height: 0, beyond: -1, agree: 0, bend: 0 };
  for (const f of region.faces) {
    for (let k = 0; k < 3; k++) {
      const g = neighbors[3 * f + k];
      if (g >= 0 && inside.has(g)) continue;
      edge.from = t[3 * f + k];
      edge.to = t[3 * f + ((k + 1) % 3)];
      const a = 3 * edge.from;
      const b = 3 * edge.to;
      const x = p[b] - p[a];
      const y = p[b + 1] - p[a + 1];
      const z = p[b + 2] - p[a + 2];
      edge.length = Math.sqrt(x * x + y * y + z * z);
      if (!(edge.length > 0)) continue;
      edge.along = Math.abs(x * axis[0] + y * axis[1] + z * axis[2]) / edge.length;
      edge.height =
        ((p[a] + p[b]) / 2 - point[0]) * axis[0] +
        ((p[a + 1] + p[b + 1]) / 2 - point[1]) * axis[1] +
        ((p[a + 2] + p[b + 2]) / 2 - point[2]) * axis[2];
      edge.beyond = g;
      edge.agree = -1;
      edge.bend = 0;
      if (g >= 0) {
        const nx = normals[3 * f];
        const ny = normals[3 * f + 1];
        const nz = normals[3 * f + 2];
        const mx = normals[3 * g];
        const my = normals[3 * g + 1];
        const mz = normals[3 * g + 2];
        edge.agree = nx * mx + ny * my + nz * mz;
        edge.bend =
          ((ny * mz - nz * my) * x + (nz * mx - nx * mz) * y + (nx * my - ny * mx) * z) / edge.length;
      }
      visit(edge);
    }
  }
}
