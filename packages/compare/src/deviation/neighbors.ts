import { faceAdjacency, type TriangleTree } from '@kinprint/mesh';

/**
 * The face adjacency of a tree by slot, 3 per slot: the slot across the edge from corner k to k + 1, −1 where there is
 * none. Faces that run along their common edge in the same direction are left out: with the others alone, two
 * neighbors that face the same way lie on different sides of their edge.
 */
export function orientedNeighbors(tree: TriangleTree): Int32Array {
  const { corners } = tree;
  const neighbors = faceAdjacency({ positions: tree.vertices, triangles: corners });
  for (let edge = 0; edge < neighbors.length; edge++) {
    const other = 3 * neighbors[edge];
    if (other < 0) continue;
    const from = corners[edge];
    const to = corners[edge % 3 === 2 ? edge - 2 : edge + 1];
    const opposite =
      (corners[other] === to && corners[other + 1] === from) ||
      (corners[other + 1] === to && corners[other + 2] === from) ||
      (corners[other + 2] === to && corners[other] === from);
    if (!opposite) neighbors[edge] = -1;
  }
  return neighbors;
}
