import { buildTree } from './build.ts';
import type { TriangleTree } from './tree.ts';

/**
 * A tree over boxes instead of triangles, for `forEachInBox` and `overlappingPairs`: its face `i` has the box that
 * `boxes` holds from 6·i on, least x, y, z, then greatest.
 */
export function treeOfBoxes(boxes: Float64Array): TriangleTree {
  const triangles = new Uint32Array(boxes.length / 2);
  // The least corner of each box, and its greatest one twice.
  for (let i = 0; i < triangles.length / 3; i++) triangles.set([2 * i, 2 * i + 1, 2 * i + 1], 3 * i);
  return buildTree({ positions: boxes, triangles });
}
