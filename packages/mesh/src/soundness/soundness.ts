import type { FaceSums } from '../mass/face-sums.ts';
import type { Soundness } from '../measurement.ts';
import type { Nesting } from '../topology/nesting.ts';
import type { ShellTable } from '../topology/shell-table.ts';
import type { Topology } from '../topology/topology.ts';
import type { Mesh, Vec3 } from '../types.ts';
import { duplicateFaces } from './duplicate-faces.ts';
import { edgeMiddle, faceMiddle, PLACES } from './places.ts';

/**
 * The flaws of a mesh, from what its topology and sums say. Self-intersections are left at null; `crossingPairs`
 * finds them.
 */
export function soundnessOf(
  mesh: Mesh,
  found: Topology,
  sums: FaceSums,
  table: ShellTable,
  nesting: Nesting,
): Soundness {
  const { pairs, loops } = found;
  const nonmanifold = [...pairs.crowdStarts.subarray(0, -1)]
    .map(start => pairs.crowded[start])
    .sort((a, b) => a - b);
  const duplicates = duplicateFaces(mesh.triangles, pairs);
  const edges = (list: ArrayLike<number>) => first(list).map(h => edgeMiddle(mesh, h));
  const faces = (list: ArrayLike<number>) => first(list).map(f => faceMiddle(mesh, f));
  const places: Record<string, readonly Vec3[]> = {
    boundary_edges: edges(pairs.boundary),
    boundary_loops: edges(loops),
    nonmanifold_edges: edges(nonmanifold),
    flipped_edges: edges(pairs.flipped),
    degenerate_faces: faces(sums.firstDegenerate),
    duplicate_faces: faces(duplicates),
    inverted_shells: faces(first(nesting.inverted).map(s => table.faceList[table.starts[s]])),
  };
  return {
    watertight:
      found.shells > 0 &&
      pairs.boundary.length === 0 &&
      pairs.flipped.length === 0 &&
      pairs.crowded.length === 0,
    boundary_edges: pairs.boundary.length,
    boundary_loops: loops.length,
    nonmanifold_edges: nonmanifold.length,
    flipped_edges: pairs.flipped.length,
    degenerate_faces: sums.degenerate,
    duplicate_faces: duplicates.length,
    self_intersections: null,
    inverted_shells: nesting.inverted.length,
    places_mm: Object.fromEntries(Object.entries(places).filter(([, list]) => list.length > 0)),
  };
}

function first(list: ArrayLike<number>): number[] {
  return Array.from({ length: Math.min(list.length, PLACES) }, (_, i) => list[i]);
}
