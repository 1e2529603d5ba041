import type { Mesh } from '../types.ts';

/** Collects triangles by their corner points; equal points become one vertex. For test meshes only. */
export interface MeshBuilder {
  vertex(x: number, y: number, z: number): number;
  triangle(a: number, b: number, c: number): void;
  /** Two triangles for corners in counter-clockwise order seen from outside. */
  quad(a: number, b: number, c: number, d: number): void;
  /** A fan from the first corner. */
  polygon(corners: readonly number[]): void;
  mesh(): Mesh;
}

export function meshBuilder(): MeshBuilder {
  const index = new Map<string, number>();
  const positions: number[] = [];
  const triangles: number[] = [];
  const builder: MeshBuilder = {
    vertex(x, y, z) {
      const key = `${x + 0},${y + 0},${z + 0}`;
      const known = index.get(key);
      if (known !== undefined) return known;
      const made = positions.length / 3;
      index.set(key, made);
      positions.push(x + 0, y + 0, z + 0);
      return made;
    },
    triangle(a, b, c) {
      triangles.push(a, b, c);
    },
    quad(a, b, c, d) {
      triangles.push(a, b, c, a, c, d);
    },
    polygon(corners) {
      for (let i = 2; i < corners.length; i++) triangles.push(corners[0], corners[i - 1], corners[i]);
    },
    mesh: () => ({ positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) }),
  };
  return builder;
}

/** A mesh from plain lists, as worked examples print them. */
export function meshOf(points: readonly (readonly number[])[], faces: readonly (readonly number[])[]): Mesh {
  return { positions: Float64Array.from(points.flat()), triangles: Uint32Array.from(faces.flat()) };
}
