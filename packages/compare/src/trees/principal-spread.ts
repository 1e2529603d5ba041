import type { Mesh, Vec3 } from '@kinprint/mesh';

/**
 * Area of a surface, and how far it spreads about its middle along its principal axes: the square roots of the
 * eigenvalues (ascending) of the area-weighted covariance.
 *
 * @remarks The second moment of a triangle about a point is A/12 · (Σ vᵢvᵢᵀ + s sᵀ) with s = Σ vᵢ (exact, by
 *   integrating the linear shape functions). Eigenvalues in closed form: O. K. Smith, "Eigenvalues of a symmetric
 *   3 × 3 matrix", Comm. ACM 4 (1961).
 */
export function principalSpread(mesh: Mesh): { area: number; spread: Vec3 } {
  const { positions: p, triangles: t } = mesh;
  if (t.length === 0) return { area: 0, spread: [0, 0, 0] };
  // Sums about a vertex of the surface: far from the origin they would cancel.
  const [ox, oy, oz] = [p[3 * t[0]], p[3 * t[0] + 1], p[3 * t[0] + 2]];
  let area = 0;
  const first = new Float64Array(3);
  const second = new Float64Array(6);
  for (let k = 0; k < t.length; k += 3) {
    const [a, b, c] = [3 * t[k], 3 * t[k + 1], 3 * t[k + 2]];
    const [ax, ay, az] = [p[a] - ox, p[a + 1] - oy, p[a + 2] - oz];
    const [bx, by, bz] = [p[b] - ox, p[b + 1] - oy, p[b + 2] - oz];
    const [cx, cy, cz] = [p[c] - ox, p[c + 1] - oy, p[c + 2] - oz];
    const [ux, uy, uz] = [bx - ax, by - ay, bz - az];
    const [vx, vy, vz] = [cx - ax, cy - ay, cz - az];
    const face = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
    const [sx, sy, sz] = [ax + bx + cx, ay + by + cy, az + bz + cz];
    const w = face / 12;
    area += face;
    first[0] += (face / 3) * sx;
    first[1] += (face / 3) * sy;
    first[2] += (face / 3) * sz;
    second[0] += w * (ax * ax + bx * bx + cx * cx + sx * sx);
    second[1] += w * (ay * ay + by * by + cy * cy + sy * sy);
    second[2] += w * (az * az + bz * bz + cz * cz + sz * sz);
    second[3] += w * (ax * ay + bx * by + cx * cy + sx * sy);
    second[4] += w * (ay * az + by * bz + cy * cz + sy * sz);
    second[5] += w * (az * ax + bz * bx + cz * cx + sz * sx);
  }
  if (area === 0) return { area, spread: [0, 0, 0] };
  const [mx, my, mz] = [first[0] / area, first[1] / area, first[2] / area];
  const values = eigenvalues(
    second[0] / area - mx * mx,
    second[1] / area - my * my,
    second[2] / area - mz * mz,
    second[3] / area - mx * my,
    second[4] / area - my * mz,
    second[5] / area - mz * mx,
  );
  const root = (value: number): number => Math.sqrt(Math.max(0, value));
  return { area, spread: [root(values[0]), root(values[1]), root(values[2])] };
}

function eigenvalues(xx: number, yy: number, zz: number, xy: number, yz: number, zx: number): Vec3 {
  const mean = (xx + yy + zz) / 3;
  const [dx, dy, dz] = [xx - mean, yy - mean, zz - mean];
  const size = Math.sqrt((dx * dx + dy * dy + dz * dz + 2 * (xy * xy + yz * yz + zx * zx)) / 6);
  if (size === 0) return [mean, mean, mean];
  const determinant = dx * (dy * dz - yz * yz) - xy * (xy * dz - yz * zx) + zx * (xy * yz - dy * zx);
  const angle = Math.acos(Math.min(1, Math.max(-1, determinant / (2 * size ** 3)))) / 3;
  const largest = mean + 2 * size * Math.cos(angle);
  const smallest = mean + 2 * size * Math.cos(angle + (2 * Math.PI) / 3);
  return [smallest, 3 * mean - largest - smallest, largest];
}
