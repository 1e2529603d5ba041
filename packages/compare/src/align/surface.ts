import type { Mesh, Vec3 } from '@kinprint/mesh';

/** What the search needs to know of one mesh. Lengths in mm; faces without area take no part. */
export interface Surface {
  readonly mesh: Mesh;
  /** Area of each face. */
  readonly faceArea: Float64Array;
  /** Unit normal of each face, 3·F; 0 for a face without area. */
  readonly faceNormal: Float32Array;
  readonly area: number;
  /** Of the vertices that faces use. */
  readonly min: Vec3;
  readonly max: Vec3;
  readonly center: Vec3;
  readonly diagonal: number;
  /** Area-weighted middle of the surface. */
  readonly centroid: Vec3;
  /** Σ area·(x−c)(x−c)ᵀ of the surface about its centroid over its area, in mm² (nine numbers). */
  readonly spread: readonly number[];
  /** Signed sum of tetrahedra: the volume of a closed mesh, a mere hint for an open one. */
  readonly volume: number;
  /** Rounding of the coordinates: half a unit in the last place of a 32-bit float at the largest coordinate. */
  readonly noise: number;
}

/** Null when no face has area, a used coordinate is not finite, or the whole is smaller than its coordinates resolve. */
export function describeSurface(mesh: Mesh): Surface | null {
  const { positions: p, triangles: t } = mesh;
  const faces = t.length / 3;
  const faceArea = new Float64Array(faces);
  const faceNormal = new Float32Array(3 * faces);
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let k = 0; k < t.length; k += 1) {
    const v = 3 * t[k];
    for (let c = 0; c < 3; c += 1) {
      const x = p[v + c];
      if (x < min[c]) min[c] = x;
      if (x > max[c]) max[c] = x;
    }
  }
  const diagonal = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  const largest = Math.max(...min.map(Math.abs), ...max.map(Math.abs));
  // Below the last digits of the coordinates, or where squares leave the range of doubles, there is no shape.
  if (!(diagonal > 1e-12 * largest) || !(diagonal > 1e-60 && diagonal < 1e60)) return null;
  const [ox, oy, oz] = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
  let area = 0;
  let volume = 0;
  const first = [0, 0, 0];
  const second = new Float64Array(6);
  for (let f = 0; f < faces; f += 1) {
    const i = 3 * t[3 * f];
    const j = 3 * t[3 * f + 1];
    const k = 3 * t[3 * f + 2];
    const ax = p[i] - ox;
    const ay = p[i + 1] - oy;
    const az = p[i + 2] - oz;
    const bx = p[j] - ox;
    const by = p[j + 1] - oy;
    const bz = p[j + 2] - oz;
    const cx = p[k] - ox;
    const cy = p[k + 1] - oy;
    const cz = p[k + 2] - oz;
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(length > 0)) continue;
    const a = length / 2;
    faceArea[f] = a;
    faceNormal[3 * f] = nx / length;
    faceNormal[3 * f + 1] = ny / length;
    faceNormal[3 * f + 2] = nz / length;
    area += a;
    volume += (ax * nx + ay * ny + az * nz) / 6;
    const sx = ax + bx + cx;
    const sy = ay + by + cy;
    const sz = az + bz + cz;
    first[0] += (a * sx) / 3;
    first[1] += (a * sy) / 3;
    first[2] += (a * sz) / 3;
    // ∫ x y over a triangle = area/12 · (Σ xᵢyᵢ + Σxᵢ Σyᵢ).
    const w = a / 12;
    second[0] += w * (ax * ax + bx * bx + cx * cx + sx * sx);
    second[1] += w * (ay * ay + by * by + cy * cy + sy * sy);
    second[2] += w * (az * az + bz * bz + cz * cz + sz * sz);
    second[3] += w * (ax * ay + bx * by + cx * cy + sx * sy);
    second[4] += w * (ax * az + bx * bz + cx * cz + sx * sz);
    second[5] += w * (ay * az + by * bz + cy * cz + sy * sz);
  }
  if (!(area > 0)) return null;
  const [gx, gy, gz] = [first[0] / area, first[1] / area, first[2] / area];
  const xy = second[3] / area - gx * gy;
  const xz = second[4] / area - gx * gz;
  const yz = second[5] / area - gy * gz;
  return {
    mesh,
    faceArea,
    faceNormal,
    area,
    min: [min[0], min[1], min[2]],
    max: [max[0], max[1], max[2]],
    center: [ox, oy, oz],
    diagonal,
    centroid: [ox + gx, oy + gy, oz + gz],
    spread: [
      second[0] / area - gx * gx,
      xy,
      xz,
      xy,
      second[1] / area - gy * gy,
      yz,
      xz,
      yz,
      second[2] / area - gz * gz,
    ],
    volume,
    noise: largest * 2 ** -24,
  };
}
