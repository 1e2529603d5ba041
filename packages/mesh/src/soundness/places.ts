import { nextEdge } from '../topology/corners.ts';
import type { Mesh, Vec3 } from '../types.ts';

/** How many places are given per flaw. */
export const PLACES = 5;

/** Middle of a directed edge. */
export function edgeMiddle(mesh: Mesh, h: number): Vec3 {
  return mean(mesh, [mesh.triangles[h], mesh.triangles[nextEdge(h)]]);
}

/** Mean of the corners of a face. */
export function faceMiddle(mesh: Mesh, face: number): Vec3 {
  return mean(mesh, [...mesh.triangles.subarray(3 * face, 3 * face + 3)]);
}

function mean(mesh: Mesh, vertices: readonly number[]): Vec3 {
  const { positions } = mesh;
  const along = (k: number) => vertices.reduce((sum, v) => sum + positions[3 * v + k], 0) / vertices.length;
  return [along(0), along(1), along(2)];
}
