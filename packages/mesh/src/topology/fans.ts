import { isCollapsed, nextEdge, previousEdge } from './corners.ts';

/** How the corners of a mesh gather around its vertices. */
export interface Fans {
  /** Vertices that faces with three distinct corners use. */
  readonly vertices: number;
  /** Groups of corners that hang together around one vertex; as many as `vertices` when every vertex is manifold. */
  readonly fans: number;
  /** Vertices with more than one fan, ascending. */
  readonly pinched: readonly number[];
}

/**
 * Walks around every vertex across edges with two faces (`twins` of `pairEdges`). Vertices where surfaces only
 * touch have several fans. Pass `limit` to bound the list of pinched vertices.
 */
export function vertexFans(
  triangles: Uint32Array,
  vertexCount: number,
  twins: Int32Array,
  limit = Infinity,
): Fans {
  const visited = new Uint8Array(triangles.length);
  const fansAt = new Uint8Array(vertexCount);
  let vertices = 0;
  let fans = 0;
  const pinched = new Set<number>();
  for (let start = 0; start < triangles.length; start++) {
    if (visited[start] === 1) continue;
    if (isCollapsed(triangles, (start / 3) | 0)) continue;
    const vertex = triangles[start];
    fans++;
    if (fansAt[vertex] === 0) vertices++;
    else if (pinched.size < limit) pinched.add(vertex);
    fansAt[vertex] = 1;
    visited[start] = 1;
    // One way around; when that ends at a border, the other way from the start.
    if (!sweep(previousEdge(start), vertex, triangles, twins, visited))
      sweep(start, vertex, triangles, twins, visited);
  }
  return { vertices, fans, pinched: [...pinched].sort((a, b) => a - b) };
}

/** Crosses `edge` at `vertex` and goes on until the way closes (true) or ends at an edge without twin (false). */
function sweep(
  edge: number,
  vertex: number,
  triangles: Uint32Array,
  twins: Int32Array,
  visited: Uint8Array,
): boolean {
  for (;;) {
    const across = twins[edge];
    if (across < 0) return false;
    let corner = across;
    if (triangles[across] === vertex) edge = previousEdge(across);
    else {
      // The faces run the same way along the edge: leave through the other edge of the vertex.
      corner = nextEdge(across);
      edge = corner;
    }
    if (visited[corner] === 1) return true;
    visited[corner] = 1;
  }
}

/**
 * From border edge `h` around the vertex at one of its ends, through the faces in between, to the next edge without
 * twin: the border goes on there.
 */
export function borderAround(h: number, vertex: number, triangles: Uint32Array, twins: Int32Array): number {
  let edge = triangles[h] === vertex ? previousEdge(h) : nextEdge(h);
  for (;;) {
    const across = twins[edge];
    if (across < 0) return edge;
    edge = triangles[across] === vertex ? previousEdge(across) : nextEdge(across);
  }
}
