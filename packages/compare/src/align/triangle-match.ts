import type { Mesh } from '@kinprint/mesh';
import { applyPlacement, type Placement } from './placement.ts';
import { nearestVertex, type VertexGrid } from './vertex-grid.ts';

/** Faces that are the same triangle in both meshes under a placement, corner by corner within a reach. */
export interface TriangleMatch {
  /** For every face of BEFORE the like face of AFTER, or −1. */
  readonly beforeToAfter: Int32Array;
  /** 1 for the faces of AFTER that have a like face in BEFORE. */
  readonly afterMatched: Uint8Array;
  /** For every vertex of BEFORE the vertex of AFTER at the same place, or −1. */
  readonly vertexToAfter: Int32Array;
  /** Faces of BEFORE that have a like face, and those faces whose direction differs from the like one's. */
  readonly matched: number;
  readonly turned: number;
}

/**
 * @param grid AFTER's vertices, with the reach within which corners are alike
 *
 * Faces without three distinct corners stay unmatched; the same triangle twice in AFTER counts as matched twice. Of
 * a large mesh, a few like vertices among thousands unlike count for none.
 */
export function matchTriangles(before: Mesh, after: Mesh, m: Placement, grid: VertexGrid): TriangleMatch {
  const p = before.positions;
  const vertexToAfter = new Int32Array(p.length / 3).fill(-1);
  if (!anyLike(p, m, grid)) {
    const beforeToAfter = new Int32Array(before.triangles.length / 3).fill(-1);
    return {
      vertexToAfter,
      beforeToAfter,
      afterMatched: new Uint8Array(after.triangles.length / 3),
      matched: 0,
      turned: 0,
    };
  }
  for (let v = 0; v < vertexToAfter.length; v += 1) {
    const x = p[3 * v];
    const y = p[3 * v + 1];
    const z = p[3 * v + 2];
    vertexToAfter[v] = nearestVertex(
      grid,
      m[0] * x + m[1] * y + m[2] * z + m[3],
      m[4] * x + m[5] * y + m[6] * z + m[7],
      m[8] * x + m[9] * y + m[10] * z + m[11],
    );
  }
  return { vertexToAfter, ...matchFaces(before.triangles, after, vertexToAfter) };
}

/** Vertices looked at before all are, and the hits that make it worth while. */
const LOOKED = 4096;
const HITS = 4;

/** Whether a regular selection of the vertices finds any like ones: of an anew tessellated mesh, none does. */
function anyLike(p: ArrayLike<number>, m: Placement, grid: VertexGrid): boolean {
  const count = p.length / 3;
  if (count <= 4 * LOOKED) return true;
  let hits = 0;
  for (let k = 0; k < LOOKED; k += 1) {
    const v = Math.floor((k * count) / LOOKED);
    const [x, y, z] = applyPlacement(m, [p[3 * v], p[3 * v + 1], p[3 * v + 2]]);
    if (nearestVertex(grid, x, y, z) >= 0) hits += 1;
  }
  return hits >= HITS;
}

function matchFaces(
  t: Uint32Array,
  after: Mesh,
  vertexToAfter: Int32Array,
): Omit<TriangleMatch, 'vertexToAfter'> {
  const u = after.triangles;
  const afterFaces = u.length / 3;
  // Faces of AFTER hang on their smallest vertex.
  const heads = new Int32Array(after.positions.length / 3).fill(-1);
  const next = new Int32Array(afterFaces);
  for (let g = 0; g < afterFaces; g += 1) {
    const low = Math.min(u[3 * g], u[3 * g + 1], u[3 * g + 2]);
    next[g] = heads[low];
    heads[low] = g;
  }
  const beforeToAfter = new Int32Array(t.length / 3).fill(-1);
  const afterMatched = new Uint8Array(afterFaces);
  let matched = 0;
  let turned = 0;
  for (let f = 0; f < beforeToAfter.length; f += 1) {
    const a = vertexToAfter[t[3 * f]];
    const b = vertexToAfter[t[3 * f + 1]];
    const c = vertexToAfter[t[3 * f + 2]];
    if (a < 0 || b < 0 || c < 0 || a === b || b === c || c === a) continue;
    const low = Math.min(a, b, c);
    const high = Math.max(a, b, c);
    const between = a + b + c - low - high;
    for (let g = heads[low]; g >= 0; g = next[g]) {
      const x = u[3 * g];
      const y = u[3 * g + 1];
      const z = u[3 * g + 2];
      const top = Math.max(x, y, z);
      if (top !== high || x + y + z - top - low !== between) continue;
      afterMatched[g] = 1;
      if (beforeToAfter[f] >= 0) continue;
      beforeToAfter[f] = g;
      matched += 1;
      const same = (x === a && y === b) || (y === a && z === b) || (z === a && x === b);
      if (!same) turned += 1;
    }
  }
  return { beforeToAfter, afterMatched, matched, turned };
}
