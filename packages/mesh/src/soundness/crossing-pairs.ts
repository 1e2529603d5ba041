import { meshDefaults } from '../defaults.ts';
import { buildTree } from '../tree/build.ts';
import { overlappingPairs } from '../tree/overlap.ts';
import type { TriangleTree } from '../tree/tree.ts';
import type { Mesh } from '../types.ts';
import { facesCross } from './faces-cross.ts';
import { hubsOf, hubsOfNodes, pairsAtHubs } from './hubs.ts';

export interface CrossingPairs {
  /** Pairs of faces, lower face first, in ascending order: `pairs[2i]`, `pairs[2i+1]`. */
  readonly pairs: Int32Array;
  /** False when the search stopped at a limit: there are at least the pairs given. */
  readonly complete: boolean;
}

export interface CrossingOptions {
  /** The mesh's tree, when it is there already. */
  readonly tree?: TriangleTree;
  /** Pairs after which the search stops. */
  readonly limit?: number;
}

/**
 * The pairs of faces of a mesh that cross or overlap, by exact decisions on the coordinates as they are.
 *
 * Faces that only touch do not count, nor do faces with the same three corners (`duplicateFaces`), nor faces with
 * two equal corners or no area (see `facesCross`). Surfaces that pass through each other exactly along edges of both
 * only touch, face by face, and are not found. Time grows with the number of pairs whose boxes meet, not counting
 * faces that share a vertex with many others; that number is limited as well.
 */
export function crossingPairs(mesh: Mesh, options: CrossingOptions = {}): CrossingPairs {
  const { positions, triangles } = mesh;
  const tree = options.tree ?? buildTree(mesh);
  const limit = options.limit ?? meshDefaults.crossings.limit;
  const { boxPairs, boxPairsPerFace } = meshDefaults.crossings;
  let budget = boxPairsPerFace * (triangles.length / 3) + boxPairs;
  const found: number[] = [];
  /** Returns true when the search has to stop. */
  const look = (f: number, g: number): boolean => {
    if (--budget < 0) return true;
    if (!facesCross(positions, triangles, f, g)) return false;
    if (found.length >= 2 * limit) return true;
    found.push(Math.min(f, g), Math.max(f, g));
    return false;
  };
  const hubs = hubsOf(mesh);
  let complete = hubs === null || !pairsAtHubs(mesh, hubs, look);
  if (complete) {
    const apart = (f: number, g: number): boolean =>
      hubs === null || hubs[f] < 0 || hubs[f] !== hubs[g] ? look(f, g) : --budget < 0;
    overlappingPairs(
      tree,
      tree,
      (f, g) => {
        complete = !apart(f, g);
        return !complete;
      },
      0,
      hubs === null ? null : hubsOfNodes(tree, hubs),
    );
  }
  return { pairs: ascending(found), complete };
}

function ascending(found: readonly number[]): Int32Array {
  const order = Uint32Array.from({ length: found.length / 2 }, (_, i) => 2 * i);
  order.sort((i, j) => found[i] - found[j] || found[i + 1] - found[j + 1]);
  const pairs = new Int32Array(found.length);
  order.forEach((from, to) => pairs.set([found[from], found[from + 1]], 2 * to));
  return pairs;
}
