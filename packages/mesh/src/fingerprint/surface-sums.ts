import type { Mat3, Mesh, Vec3 } from '../types.ts';

/** Exact integrals over a surface. */
export interface SurfaceSums {
  readonly area: number;
  readonly centroid: Vec3;
  /** ∫ r rᵀ dA / area, r from the centroid. */
  readonly covariance: Mat3;
  /** ∫ n nᵀ dA / area: how the surface's directions are spread. Its trace is 1. */
  readonly normals: Mat3;
}

/**
 * The sums, or null for a surface without area or with numbers beyond what squares can hold.
 *
 * Second moment of a triangle: A/12 · (Σ vᵢvᵢᵀ + s sᵀ), s = Σ vᵢ (exact, integrating the linear shape functions).
 *
 * @param about a point near the surface: sums about a far one would cancel
 */
export function surfaceSums({ positions: p, triangles: t }: Mesh, [ox, oy, oz]: Vec3): SurfaceSums | null {
  const s = new Float64Array(16);
  for (let k = 0; k < t.length; k += 3) {
    const a = 3 * t[k];
    const b = 3 * t[k + 1];
    const c = 3 * t[k + 2];
    const ax = p[a] - ox;
    const ay = p[a + 1] - oy;
    const az = p[a + 2] - oz;
    const bx = p[b] - ox;
    const by = p[b + 1] - oy;
    const bz = p[b + 2] - oz;
    const cx = p[c] - ox;
    const cy = p[c + 1] - oy;
    const cz = p[c + 2] - oz;
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const doubled = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(doubled > 0)) continue;
    const sx = ax + bx + cx;
    const sy = ay + by + cy;
    const sz = az + bz + cz;
    const w = doubled / 24;
    s[0] += doubled / 2;
    s[1] += (doubled / 6) * sx;
    s[2] += (doubled / 6) * sy;
    s[3] += (doubled / 6) * sz;
    s[4] += w * (ax * ax + bx * bx + cx * cx + sx * sx);
    s[5] += w * (ay * ay + by * by + cy * cy + sy * sy);
    s[6] += w * (az * az + bz * bz + cz * cz + sz * sz);
    s[7] += w * (ax * ay + bx * by + cx * cy + sx * sy);
    s[8] += w * (ay * az + by * bz + cy * cz + sy * sz);
    s[9] += w * (az * ax + bz * bx + cz * cx + sz * sx);
    const per = 0.5 / doubled;
    s[10] += per * nx * nx;
    s[11] += per * ny * ny;
    s[12] += per * nz * nz;
    s[13] += per * nx * ny;
    s[14] += per * ny * nz;
    s[15] += per * nz * nx;
  }
  if (!(s[0] > 0) || !s.every(Number.isFinite)) return null;
  const area = s[0];
  const mx = s[1] / area;
  const my = s[2] / area;
  const mz = s[3] / area;
  return {
    area,
    centroid: [ox + mx, oy + my, oz + mz],
    covariance: symmetric(
      s[4] / area - mx * mx,
      s[5] / area - my * my,
      s[6] / area - mz * mz,
      s[7] / area - mx * my,
      s[8] / area - my * mz,
      s[9] / area - mz * mx,
    ),
    normals: symmetric(s[10] / area, s[11] / area, s[12] / area, s[13] / area, s[14] / area, s[15] / area),
  };
}

function symmetric(xx: number, yy: number, zz: number, xy: number, yz: number, zx: number): Mat3 {
  return [
    [xx, xy, zx],
    [xy, yy, yz],
    [zx, yz, zz],
  ];
}
