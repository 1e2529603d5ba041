import { closestHit, closestPoint, type TriangleTree } from '@kinprint/mesh';

/** Distances of the vertices of one tree from the surface of another. */
export interface VertexDistances {
  /** Per vertex of the tree; 0 for vertices that were not asked for. */
  readonly distance: Float64Array;
  /** Face of the other mesh that the vertex is nearest to, −1 where not asked for. */
  readonly near: Int32Array;
}

/** Room for the distances of all vertices of a tree. */
export function emptyVertexDistances(tree: TriangleTree): VertexDistances {
  const vertices = tree.vertexOf.length;
  return { distance: new Float64Array(vertices), near: new Int32Array(vertices).fill(-1) };
}

/** Per vertex of the tree 1 when a face that is not skipped (per slot) uses it. */
export function usedVertices(tree: TriangleTree, skip: Uint8Array): Uint8Array {
  const used = new Uint8Array(tree.vertexOf.length);
  for (let slot = 0; slot < tree.size; slot++) {
    if (skip[slot] === 1) continue;
    used[tree.corners[3 * slot]] = used[tree.corners[3 * slot + 1]] = used[tree.corners[3 * slot + 2]] = 1;
  }
  return used;
}

/**
 * Measures the wanted vertices `start`…`end` of `from` against the surface of `to` and writes them to `out`. Returns
 * the vertex that lies farthest, −1 when none was wanted. Ranges are independent: several threads may each take one.
 */
export function measureVertices(
  from: TriangleTree,
  to: TriangleTree,
  wanted: Uint8Array,
  start: number,
  end: number,
  out: VertexDistances,
): number {
  const hit = closestHit();
  const { vertices } = from;
  const { distance, near } = out;
  let farthest = -1;
  let hint = -1;
  for (let v = start; v < end; v++) {
    if (wanted[v] === 0) continue;
    // Tree order: the vertex before lay close by.
    closestPoint(to, vertices[3 * v], vertices[3 * v + 1], vertices[3 * v + 2], hit, Infinity, hint);
    hint = hit.face;
    distance[v] = Math.sqrt(hit.distanceSq);
    near[v] = hit.face;
    if (farthest < 0 || distance[v] > distance[farthest]) farthest = v;
  }
  return farthest;
}
