import type { Mesh } from '../types.ts';
import { createFloat64Welder, float64Positions, weldFloat64, type Float64Welder } from './weld-float64.ts';

/** A mesh in the making, for formats read number by number: welded vertices and a growing list of corners. */
export interface MeshBuilder {
  readonly welder: Float64Welder;
  corners: Uint32Array;
  /** Corners so far, three to a face. */
  cornerCount: number;
}

/** An empty builder; it grows with what is added. */
export function createMeshBuilder(expectedFaces = 0): MeshBuilder {
  return {
    welder: createFloat64Welder(expectedFaces >> 1),
    corners: new Uint32Array(3 * Math.max(expectedFaces, 4)),
    cornerCount: 0,
  };
}

/** Adds a vertex at finite coordinates, or finds the equal one; returns its number. */
export function addVertex(builder: MeshBuilder, x: number, y: number, z: number): number {
  return weldFloat64(builder.welder, x, y, z);
}

/** Adds a face with corners counter-clockwise from outside. */
export function addFace(builder: MeshBuilder, a: number, b: number, c: number): void {
  if (builder.cornerCount === builder.corners.length) {
    const corners = new Uint32Array(2 * builder.corners.length);
    corners.set(builder.corners);
    builder.corners = corners;
  }
  builder.corners[builder.cornerCount] = a;
  builder.corners[builder.cornerCount + 1] = b;
  builder.corners[builder.cornerCount + 2] = c;
  builder.cornerCount += 3;
}

/** The mesh built so far, in arrays of its own. */
export function builtMesh(builder: MeshBuilder): Mesh {
  return {
    positions: float64Positions(builder.welder),
    triangles: builder.corners.slice(0, builder.cornerCount),
  };
}
