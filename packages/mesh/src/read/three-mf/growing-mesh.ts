import type { Mesh } from '../../types.ts';

/** Vertices and triangles as a file lists them, kept in arrays that grow with what has come. */
export interface GrowingMesh {
  readonly addVertex: (x: number, y: number, z: number) => void;
  readonly addTriangle: (a: number, b: number, c: number) => void;
  readonly vertexCount: () => number;
  /** The lists in arrays of their own, without vertices that no triangle uses; not welded. */
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
    finish: () => withoutUnused(positions.subarray(0, coordinates), triangles.slice(0, corners)),
  };
}

/**
 * Drops vertices that no triangle uses, once and for all placements: an object may list any number of them and be
 * placed any number of times. Renumbers `triangles` in place.
 */
function withoutUnused(positions: Float64Array, triangles: Uint32Array): Mesh {
  // 1 for a used vertex at first, then its new number.
  const numbers = new Uint32Array(positions.length / 3);
  for (const vertex of triangles) numbers[vertex] = 1;
  let used = 0;
  for (const one of numbers) used += one;
  const kept = new Float64Array(3 * used);
  let next = 0;
  for (let vertex = 0; vertex < numbers.length; vertex++) {
    if (numbers[vertex] === 0) continue;
    for (let k = 0; k < 3; k++) kept[3 * next + k] = positions[3 * vertex + k];
    numbers[vertex] = next++;
  }
  for (let c = 0; c < triangles.length; c++) triangles[c] = numbers[triangles[c]];
  return { positions: kept, triangles };
}
