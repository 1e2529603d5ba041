import type { Mesh } from '../types.ts';
import { pairEdges, type EdgePairs } from './edge-pairs.ts';

/**
 * The neighbors of every face: entry `3·f + k` is the face across the edge from corner k to corner k+1 of face f,
 * or −1 where the edge lies on one face only, on three or more, or on a face with two equal corners.
 *
 * Two faces that run along their common edge in the same direction (a flipped pair) are neighbors as well.
 * Hand in `pairs` when they are known already.
 */
export function faceAdjacency(mesh: Mesh, pairs: EdgePairs = pairEdges(mesh)): Int32Array {
  const { twins } = pairs;
  const neighbors = new Int32Array(twins.length);
  for (let h = 0; h < twins.length; h++) {
    const twin = twins[h];
    neighbors[h] = twin < 0 ? -1 : (twin / 3) | 0;
  }
  return neighbors;
}
