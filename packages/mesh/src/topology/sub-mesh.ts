import type { Mesh } from '../types.ts';

/** The faces listed, in that order, with only the vertices they use, in order of first use. Same precision. */
export function subMesh(mesh: Mesh, faces: ArrayLike<number>): Mesh {
  const { positions, triangles } = mesh;
  const newVertex = new Int32Array(positions.length / 3).fill(-1);
  const kept: number[] = [];
  const picked = new Uint32Array(3 * faces.length);
  for (let i = 0; i < faces.length; i++) {
    for (let k = 0; k < 3; k++) {
      const v = triangles[3 * faces[i] + k];
      if (newVertex[v] < 0) newVertex[v] = kept.push(v) - 1;
      picked[3 * i + k] = newVertex[v];
    }
  }
  const places =
    positions instanceof Float32Array ? new Float32Array(3 * kept.length) : new Float64Array(3 * kept.length);
  kept.forEach((v, i) => {
    for (let k = 0; k < 3; k++) places[3 * i + k] = positions[3 * v + k];
  });
  return { positions: places, triangles: picked };
}
