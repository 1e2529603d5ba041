import type { Mesh } from '../types.ts';

/** An affine map as a 4×4 matrix, rows first, last row 0 0 0 1: `p' = matrix · (p, 1)`. */
export type Affine = readonly [Row4, Row4, Row4, Row4];
type Row4 = readonly [number, number, number, number];

/** Determinant of the linear part: negative for a map that mirrors. */
export function linearDeterminant([a, b, c]: Affine): number {
  return (
    a[0] * (b[1] * c[2] - b[2] * c[1]) -
    a[1] * (b[0] * c[2] - b[2] * c[0]) +
    a[2] * (b[0] * c[1] - b[1] * c[0])
  );
}

/**
 * The mesh under an affine map, in double precision. A map that mirrors also reverses every face, so that what
 * was outside stays outside.
 */
export function transformMesh(mesh: Mesh, matrix: Affine): Mesh {
  const source = mesh.positions;
  const positions = new Float64Array(source.length);
  const [a, b, c] = matrix;
  const [a0, a1, a2, a3] = a;
  const [b0, b1, b2, b3] = b;
  const [c0, c1, c2, c3] = c;
  for (let k = 0; k < source.length; k += 3) {
    const x = source[k];
    const y = source[k + 1];
    const z = source[k + 2];
    positions[k] = a0 * x + a1 * y + a2 * z + a3;
    positions[k + 1] = b0 * x + b1 * y + b2 * z + b3;
    positions[k + 2] = c0 * x + c1 * y + c2 * z + c3;
  }
  return { positions, triangles: linearDeterminant(matrix) < 0 ? reversed(mesh.triangles) : mesh.triangles };
}

/** The same faces seen from the other side: corners 1 and 2 exchanged. */
export function reversed(triangles: Uint32Array): Uint32Array {
  const out = triangles.slice();
  for (let k = 0; k < out.length; k += 3) {
    out[k + 1] = triangles[k + 2];
    out[k + 2] = triangles[k + 1];
  }
  return out;
}
