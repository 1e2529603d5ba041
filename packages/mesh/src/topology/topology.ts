import type { Mesh } from '../types.ts';
import { boundaryLoops } from './boundary-loops.ts';
import { pairEdges, type EdgePairs } from './edge-pairs.ts';
import { vertexFans } from './fans.ts';
import { labelShells, type ShellLabels } from './shells.ts';

export interface Topology extends ShellLabels {
  readonly pairs: EdgePairs;
  /** Vertices that faces with three distinct corners use. */
  readonly vertices: number;
  /** Vertices − edges + faces, faces with two equal corners left out. */
  readonly euler: number;
  /** One directed edge of each boundary loop. */
  readonly loops: readonly number[];
  /** First vertices at which surfaces only touch; not looked for when an edge has three or more faces. */
  readonly pinched: readonly number[];
  /**
   * Handles of all shells together: (2·shells − loops − euler) / 2. Null when the surface is not a manifold
   * (an edge of three or more faces, a vertex at which surfaces touch), not orientable, or empty.
   */
  readonly genus: number | null;
}

/** Edges, shells, boundary loops, Euler characteristic and genus of a mesh whose equal vertices are welded. */
export function topology(mesh: Mesh, pairs: EdgePairs = pairEdges(mesh)): Topology {
  const { triangles } = mesh;
  const vertexCount = mesh.positions.length / 3;
  const labels = labelShells(mesh, pairs);
  const loops = boundaryLoops(triangles, pairs);
  const crowded = pairs.crowded.length > 0;
  const { vertices, pinched } = crowded
    ? { vertices: countUsed(triangles, vertexCount, pairs), pinched: [] }
    : vertexFans(triangles, vertexCount, pairs.twins, 5);
  const faces = triangles.length / 3 - pairs.collapsedFaces;
  const euler = vertices - pairs.edges + faces;
  const manifold = !crowded && pinched.length === 0 && labels.orientable && labels.shells > 0;
  const genus = manifold ? (2 * labels.shells - loops.length - euler) / 2 : null;
  return { ...labels, pairs, vertices, euler, loops, pinched, genus };
}

function countUsed(triangles: Uint32Array, vertexCount: number, pairs: EdgePairs): number {
  const used = new Uint8Array(vertexCount);
  for (let base = 0; base < triangles.length; base += 3) {
    const a = triangles[base];
    const b = triangles[base + 1];
    const c = triangles[base + 2];
    if (pairs.collapsedFaces > 0 && (a === b || b === c || c === a)) continue;
    used[a] = used[b] = used[c] = 1;
  }
  let count = 0;
  for (let v = 0; v < vertexCount; v++) count += used[v];
  return count;
}
