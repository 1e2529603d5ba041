import type { Mesh } from '../types.ts';

/** Several meshes as one, vertices not welded across them: bodies that touch stay apart. */
export function concatenate(meshes: readonly Mesh[]): Mesh {
  const only = meshes[0];
  if (meshes.length === 1 && only !== undefined) return only;
  const vertices = meshes.reduce((n, m) => n + m.positions.length, 0);
  const corners = meshes.reduce((n, m) => n + m.triangles.length, 0);
  const single = meshes.every(m => m.positions instanceof Float32Array);
  const positions = single ? new Float32Array(vertices) : new Float64Array(vertices);
  const triangles = new Uint32Array(corners);
  let v = 0;
  let t = 0;
  for (const mesh of meshes) {
    positions.set(mesh.positions, v);
    const first = v / 3;
    for (let k = 0; k < mesh.triangles.length; k += 1) triangles[t + k] = mesh.triangles[k] + first;
    v += mesh.positions.length;
    t += mesh.triangles.length;
  }
  return { positions, triangles };
}
