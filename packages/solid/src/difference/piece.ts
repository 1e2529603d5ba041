import type { Body } from '../body.ts';

/** A part of a body while it is being cut. */
export interface Piece {
  /** 3·V, in mm. */
  readonly positions: Float32Array | Float64Array;
  readonly triangles: Uint32Array;
  /** Per face its group in the body; null when the body has none. */
  readonly groupOf: Uint32Array | null;
}

export function pieceOf(body: Body): Piece {
  return { positions: body.mesh.positions, triangles: body.mesh.triangles, groupOf: body.groupOf };
}

/** Collects the vertices and faces of a piece; arrays grow as needed. */
export interface PieceBuilder {
  /** Adds a vertex and returns its index. */
  addVertex(x: number, y: number, z: number): number;
  addFace(a: number, b: number, c: number, group: number): void;
  /** Coordinate `k` (0…2) of a vertex added before. */
  coordinate(vertex: number, k: number): number;
  finish(): Piece;
}

export function pieceBuilder(grouped: boolean): PieceBuilder {
  let positions = new Float64Array(3 * 1024);
  let triangles = new Uint32Array(3 * 2048);
  let groups = new Uint32Array(grouped ? 2048 : 0);
  let p = 0;
  let t = 0;
  return {
    addVertex(x, y, z) {
      if (p === positions.length) {
        const larger = new Float64Array(2 * p);
        larger.set(positions);
        positions = larger;
      }
      positions[p] = x;
      positions[p + 1] = y;
      positions[p + 2] = z;
      p += 3;
      return p / 3 - 1;
    },
    addFace(a, b, c, group) {
      if (t === triangles.length) {
        triangles = doubled(triangles);
        if (grouped) groups = doubled(groups);
      }
      triangles[t] = a;
      triangles[t + 1] = b;
      triangles[t + 2] = c;
      if (grouped) groups[t / 3] = group;
      t += 3;
    },
    coordinate: (vertex, k) => positions[3 * vertex + k],
    finish: () => ({
      positions: positions.subarray(0, p),
      triangles: triangles.subarray(0, t),
      groupOf: grouped ? groups.subarray(0, t / 3) : null,
    }),
  };
}

function doubled(array: Uint32Array): Uint32Array<ArrayBuffer> {
  const larger = new Uint32Array(2 * array.length);
  larger.set(array);
  return larger;
}
