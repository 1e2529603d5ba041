import type { Mesh } from './types.ts';

export interface FaceNormals {
  /** Unit normals, 3 per face; 0, 0, 0 where the face has no area or a coordinate that is not finite. */
  readonly normals: Float64Array;
  /** mm² per face. */
  readonly areas: Float64Array;
  readonly total: number;
}

/** Unit normal and area of every face. */
export function faceNormals(mesh: Mesh): FaceNormals {
  const { positions: p, triangles: t } = mesh;
  const count = t.length / 3;
  const normals = new Float64Array(3 * count);
  const areas = new Float64Array(count);
  let total = 0;
  for (let f = 0, k = 0; f < count; f++, k += 3) {
    const a = 3 * t[k];
    const b = 3 * t[k + 1];
    const c = 3 * t[k + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(length > 0) || length === Infinity) continue;
    normals[k] = nx / length;
    normals[k + 1] = ny / length;
    normals[k + 2] = nz / length;
    areas[f] = length / 2;
    total += length / 2;
  }
  return { normals, areas, total };
}
