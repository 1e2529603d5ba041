import type { Mesh } from '../types.ts';
import type { PlanarPatches } from './planar-patches.ts';

/**
 * The edges of one planar patch across which the surface bends, but not sharply (at most `maxBend`). Reused from
 * patch to patch: only the first `count` entries are of the last one read.
 */
export interface FacetEdges {
  count: number;
  /** Patch across the edge. */
  other: Int32Array;
  /** Vertices of the edge. */
  from: Int32Array;
  to: Int32Array;
  /** Unit direction, 3 per edge. */
  direction: Float64Array;
  length: Float64Array;
  /** 1 where the surface bends away (a ridge), −1 where it bends up (a valley). */
  sense: Int8Array;
}

export function facetEdges(): FacetEdges {
  return emptyEdges(64);
}

function emptyEdges(capacity: number): FacetEdges {
  return {
    count: 0,
    other: new Int32Array(capacity),
    from: new Int32Array(capacity),
    to: new Int32Array(capacity),
    direction: new Float64Array(3 * capacity),
    length: new Float64Array(capacity),
    sense: new Int8Array(capacity),
  };
}

/** Reads the bending edges of `patch` into `into`. */
export function readFacetEdges(
  mesh: Mesh,
  neighbors: Int32Array,
  patches: PlanarPatches,
  patch: number,
  cosMaxBend: number,
  into: FacetEdges,
): void {
  const { positions: p, triangles: t } = mesh;
  const { patchOf, normals } = patches;
  const nx = normals[3 * patch];
  const ny = normals[3 * patch + 1];
  const nz = normals[3 * patch + 2];
  into.count = 0;
  for (let i = patches.starts[patch]; i < patches.starts[patch + 1]; i++) {
    const f = patches.faces[i];
    for (let k = 0; k < 3; k++) {
      const g = neighbors[3 * f + k];
      if (g < 0) continue;
      const q = patchOf[g];
      if (q < 0 || q === patch) continue;
      const mx = normals[3 * q];
      const my = normals[3 * q + 1];
      const mz = normals[3 * q + 2];
      if (nx * mx + ny * my + nz * mz < cosMaxBend) continue;
      const from = t[3 * f + k];
      const to = t[3 * f + ((k + 1) % 3)];
      const dx = p[3 * to] - p[3 * from];
      const dy = p[3 * to + 1] - p[3 * from + 1];
      const dz = p[3 * to + 2] - p[3 * from + 2];
      const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
      if (!(length > 0)) continue;
      const bend = (ny * mz - nz * my) * dx + (nz * mx - nx * mz) * dy + (nx * my - ny * mx) * dz;
      if (into.count === into.other.length) grow(into);
      const e = into.count++;
      into.other[e] = q;
      into.from[e] = from;
      into.to[e] = to;
      into.direction[3 * e] = dx / length;
      into.direction[3 * e + 1] = dy / length;
      into.direction[3 * e + 2] = dz / length;
      into.length[e] = length;
      into.sense[e] = bend > 0 ? 1 : -1;
    }
  }
}

function grow(edges: FacetEdges): void {
  const larger = emptyEdges(2 * edges.other.length);
  larger.other.set(edges.other);
  larger.from.set(edges.from);
  larger.to.set(edges.to);
  larger.direction.set(edges.direction);
  larger.length.set(edges.length);
  larger.sense.set(edges.sense);
  edges.other = larger.other;
  edges.from = larger.from;
  edges.to = larger.to;
  edges.direction = larger.direction;
  edges.length = larger.length;
  edges.sense = larger.sense;
}
