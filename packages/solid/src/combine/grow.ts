import type { Mesh } from '@kinprint/mesh';

/**
 * A closed surface with every face moved outward by `by_mm`; inward where that is negative.
 *
 * Each vertex moves so that the planes of its faces do, in the least-squares sense: exactly where up to three planes
 * meet, nearly where more do. It never moves farther than four times the distance: at needles the faces move less.
 * The least squares are those of quadric error metrics (Garland & Heckbert, "Surface Simplification Using Quadric Error
 * Metrics", SIGGRAPH 1997), each face weighted by its angle at the vertex, so that triangulation plays no role.
 */
export function grown({ positions, triangles }: Mesh, by_mm: number): Mesh {
  const normals = faceNormals(positions, triangles);
  // Per vertex: the six different entries of Σ w n nᵀ, and Σ w n.
  const sums = new Float64Array(3 * positions.length);
  for (let h = 0; h < triangles.length; h++) {
    const face = h - (h % 3);
    const [x, y, z] = [normals[face], normals[face + 1], normals[face + 2]];
    const next = triangles[face + ((h + 1) % 3)];
    const last = triangles[face + ((h + 2) % 3)];
    const w = angleAt(positions, triangles[h], next, last);
    const at = 9 * triangles[h];
    [x * x, x * y, x * z, y * y, y * z, z * z, x, y, z].forEach((value, k) => (sums[at + k] += w * value));
  }
  const moved = Float64Array.from(positions);
  for (let v = 0; v < positions.length; v += 3) {
    solve(sums.subarray(3 * v, 3 * v + 9)).forEach((value, k) => (moved[v + k] += by_mm * value));
  }
  return { positions: moved, triangles };
}

/** The weight, relative to the faces', of staying where it is: settles what the planes leave open. */
const rest = 1e-4;
const farthest = 4;

/** The motion that moves every plane by 1. */
function solve(sums: Float64Array): readonly [number, number, number] {
  const [xx0, xy, xz, yy0, yz, zz0, bx, by, bz] = sums;
  const weight = xx0 + yy0 + zz0;
  if (!(weight > 0)) return [0, 0, 0];
  const [xx, yy, zz] = [xx0 + rest * weight, yy0 + rest * weight, zz0 + rest * weight];
  const [p, q, r] = [yy * zz - yz * yz, xz * yz - xy * zz, xy * yz - xz * yy];
  const determinant = xx * p + xy * q + xz * r;
  const x = (p * bx + q * by + r * bz) / determinant;
  const y = (q * bx + (xx * zz - xz * xz) * by + (xy * xz - xx * yz) * bz) / determinant;
  const z = (r * bx + (xy * xz - xx * yz) * by + (xx * yy - xy * xy) * bz) / determinant;
  const length = Math.hypot(x, y, z);
  const cut = length > farthest ? farthest / length : 1;
  return [cut * x, cut * y, cut * z];
}

type Positions = Mesh['positions'];

/** Three numbers per face, at the face's first corner; zero for one without area. */
function faceNormals(p: Positions, triangles: Uint32Array): Float64Array {
  const out = new Float64Array(triangles.length);
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const length = Math.hypot(...n);
    if (length > 0) n.forEach((value, k) => (out[i + k] = value / length));
  }
  return out;
}

function angleAt(p: Positions, at: number, to: number, other: number): number {
  const u = [0, 1, 2].map(k => p[3 * to + k] - p[3 * at + k]);
  const v = [0, 1, 2].map(k => p[3 * other + k] - p[3 * at + k]);
  const lengths = Math.hypot(...u) * Math.hypot(...v);
  if (lengths === 0) return 0;
  const cosine = (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / lengths;
  return Math.acos(Math.max(-1, Math.min(1, cosine)));
}
