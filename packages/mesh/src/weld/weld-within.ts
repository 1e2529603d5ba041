import { faceAdjacency } from '../topology/face-adjacency.ts';
import type { Mesh } from '../types.ts';
import { pointGrid } from './point-grid.ts';

/** What closing seams did to a mesh. */
export interface SeamWeld {
  /** The input itself when nothing was merged. */
  readonly mesh: Mesh;
  /** Vertices that were moved onto another one and are gone. */
  readonly merged: number;
  /** The furthest any vertex was moved; never above the tolerance. */
  readonly largestMove_mm: number;
}

/**
 * Closes seams: merges vertices on open edges that lie within `tolerance_mm` of one another. A step of its own
 * beside the exact weld, to be reported, since it changes the shape by up to the tolerance.
 *
 * Each vertex moves onto the nearest vertex before it, in index order, that stays where it is; so moves never add
 * up. Two corners of one face are never merged: faces keep their number and order, and no face is lost. Seams
 * where one side has a vertex and the other has none (T-junctions) stay open. Vertices away from open edges are
 * never touched.
 *
 * @param tolerance_mm at 0 or below nothing is merged.
 */
export function weldWithin(mesh: Mesh, tolerance_mm: number): SeamWeld {
  const nothing: SeamWeld = { mesh, merged: 0, largestMove_mm: 0 };
  if (!(tolerance_mm > 0)) return nothing;
  const open = openVertices(mesh);
  const faces = facesOf(mesh, open);
  const { positions, triangles } = mesh;
  const target = new Int32Array(positions.length / 3);
  for (let i = 0; i < target.length; i++) target[i] = i;
  const grid = pointGrid(positions, tolerance_mm, faces.vertices);
  let merged = 0;
  let largestSq = 0;
  for (let vertex = 0; vertex < open.length; vertex++) {
    if (open[vertex] === 0) continue;
    const near = grid.nearest(vertex, candidate => !meets(vertex, candidate));
    if (near.index < 0) {
      grid.add(vertex);
    } else {
      target[vertex] = near.index;
      merged++;
      largestSq = Math.max(largestSq, near.distanceSq);
    }
  }
  if (merged === 0) return nothing;
  return { mesh: renumbered(mesh, target), merged, largestMove_mm: Math.sqrt(largestSq) };

  /** True when a face of `vertex` has another corner that already stands for `candidate`. */
  function meets(vertex: number, candidate: number): boolean {
    for (let k = faces.start[vertex]; k < faces.start[vertex + 1]; k++) {
      const corner = 3 * faces.list[k];
      for (let c = corner; c < corner + 3; c++) {
        if (triangles[c] !== vertex && target[triangles[c]] === candidate) return true;
      }
    }
    return false;
  }
}

/** 1 for every vertex at the end of an edge that does not lie between exactly two faces. */
function openVertices(mesh: Mesh): Uint8Array {
  const { triangles } = mesh;
  const neighbors = faceAdjacency(mesh);
  const open = new Uint8Array(mesh.positions.length / 3);
  for (let h = 0; h < neighbors.length; h++) {
    if (neighbors[h] >= 0) continue;
    open[triangles[h]] = 1;
    open[triangles[h % 3 === 2 ? h - 2 : h + 1]] = 1;
  }
  return open;
}

/** The faces around every open vertex, as one list with the start of each vertex's share. */
function facesOf(mesh: Mesh, open: Uint8Array): { start: Uint32Array; list: Uint32Array; vertices: number } {
  const { triangles } = mesh;
  const start = new Uint32Array(open.length + 1);
  let vertices = 0;
  for (const mark of open) vertices += mark;
  for (const vertex of triangles) if (open[vertex] === 1) start[vertex + 1]++;
  for (let v = 0; v < open.length; v++) start[v + 1] += start[v];
  const list = new Uint32Array(start[open.length]);
  const next = start.slice();
  for (let c = 0; c < triangles.length; c++) {
    if (open[triangles[c]] === 1) list[next[triangles[c]]++] = Math.floor(c / 3);
  }
  return { start, list, vertices };
}

function renumbered(mesh: Mesh, target: Int32Array): Mesh {
  const newNumber = new Uint32Array(target.length);
  let kept = 0;
  const positions = mesh.positions.slice();
  for (let v = 0; v < target.length; v++) {
    if (target[v] !== v) continue;
    positions.copyWithin(3 * kept, 3 * v, 3 * v + 3);
    newNumber[v] = kept++;
  }
  return {
    positions: positions.slice(0, 3 * kept),
    triangles: mesh.triangles.map(v => newNumber[target[v]]),
  };
}
