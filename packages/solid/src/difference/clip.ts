import type { Kernel } from '../kernel.ts';
import { addCap, type CapEdge } from './cap.ts';
import type { Cut } from './cut-planes.ts';
import { pieceBuilder, type Piece } from './piece.ts';

/**
 * Cuts a closed piece down to a half-space and closes it again with a flat cap. Time linear in the faces.
 *
 * A vertex on the plane counts as kept. Where an edge crosses the plane one new vertex is made, from the same two
 * ends in the same order whichever face asks and whichever mesh holds the edge: faces stay joined, and edges that two
 * meshes share bit for bit are cut to points that they share bit for bit.
 */
export function clip(kernel: Kernel, piece: Piece, cut: Cut): Piece {
  const { positions, triangles, groupOf } = piece;
  const vertexCount = positions.length / 3;
  const inside = insideFlags(positions, cut);
  const kept = new Int32Array(vertexCount).fill(-1);
  const crossings = new Map<number, number>();
  const out = pieceBuilder(groupOf !== null);
  const edges: CapEdge[] = [];

  const keep = (v: number): number => {
    if (kept[v] < 0) kept[v] = out.addVertex(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
    return kept[v];
  };
  const cross = (u: number, v: number): number => {
    const key = u < v ? u * vertexCount + v : v * vertexCount + u;
    let vertex = crossings.get(key);
    if (vertex === undefined) {
      const [x, y, z] = crossing(positions, u, v, cut);
      vertex = out.addVertex(x, y, z);
      crossings.set(key, vertex);
    }
    return vertex;
  };

  for (let i = 0, f = 0; i < triangles.length; i += 3, f++) {
    let a = triangles[i];
    let b = triangles[i + 1];
    let c = triangles[i + 2];
    const count = inside[a] + inside[b] + inside[c];
    if (count === 0) continue;
    const group = groupOf === null ? 0 : groupOf[f];
    if (count === 3) {
      out.addFace(keep(a), keep(b), keep(c), group);
      continue;
    }
    // Turn the face so that `a` is the one corner on its side of the plane.
    const odd = count === 1 ? 1 : 0;
    if (inside[b] === odd) [a, b, c] = [b, c, a];
    else if (inside[c] === odd) [a, b, c] = [c, a, b];
    const ab = cross(a, b);
    const ca = cross(c, a);
    if (count === 1) {
      out.addFace(keep(a), ab, ca, group);
      edges.push({ from: ca, to: ab, group });
    } else {
      out.addFace(ab, keep(b), keep(c), group);
      out.addFace(ab, keep(c), ca, group);
      edges.push({ from: ab, to: ca, group });
    }
  }
  addCap(kernel, out, edges, cut);
  return out.finish();
}

function insideFlags(positions: Piece['positions'], { axis, at, keep }: Cut): Uint8Array {
  const inside = new Uint8Array(positions.length / 3);
  if (keep === 'above') {
    for (let v = 0, i = axis; v < inside.length; v++, i += 3) inside[v] = positions[i] >= at ? 1 : 0;
  } else {
    for (let v = 0, i = axis; v < inside.length; v++, i += 3) inside[v] = positions[i] <= at ? 1 : 0;
  }
  return inside;
}

/** Where the edge meets the plane, computed from the end that comes first by coordinates. */
function crossing(
  positions: Piece['positions'],
  u: number,
  v: number,
  { axis, at }: Cut,
): readonly [number, number, number] {
  const first = comesFirst(positions, u, v);
  const p = 3 * (first ? u : v);
  const q = 3 * (first ? v : u);
  const share = (at - positions[p + axis]) / (positions[q + axis] - positions[p + axis]);
  const on = (k: number): number =>
    k === axis ? at : positions[p + k] + share * (positions[q + k] - positions[p + k]);
  return [on(0), on(1), on(2)];
}

function comesFirst(positions: Piece['positions'], u: number, v: number): boolean {
  for (let k = 0; k < 3; k++) {
    const difference = positions[3 * u + k] - positions[3 * v + k];
    if (difference !== 0) return difference < 0;
  }
  return u < v;
}
