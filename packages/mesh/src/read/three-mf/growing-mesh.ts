import type { Mesh } from '../../types.ts';

/** Vertices and triangles as a file lists them, kept in arrays that grow with what has come. */
export interface GrowingMesh {
  readonly addVertex: (x: number, y: number, z: number) => void;
  readonly addTriangle: (a: number, b: number, c: number) => void;
  readonly vertexCount: () => number;
  /** The lists in arrays of their own; not welded. */
  readonly finish: () => Mesh;
}

export function growingMesh(): GrowingMesh {
  let positions = new Float64Array(96);
  let triangles = new Uint32Array(96);
  let coordinates = 0;
  let corners = 0;
  return {
    addVertex(x, y, z) {
      if (coordinates === positions.length) {
        const larger = new Float64Array(2 * coordinates);
        larger.set(positions);
        positions = larger;
      }
      positions[coordinates] = x;
      positions[coordinates + 1] = y;
      positions[coordinates + 2] = z;
      coordinates += 3;
    },
    addTriangle(a, b, c) {
      if (corners === triangles.length) {
        const larger = new Uint32Array(2 * corners);
        larger.set(triangles);
        triangles = larger;
      }
      triangles[corners] = a;
      triangles[corners + 1] = b;
      triangles[corners + 2] = c;
      corners += 3;
    },
    vertexCount: () => coordinates / 3,
    finish: () => ({ positions: positions.slice(0, coordinates), triangles: triangles.slice(0, corners) }),
  };
}
