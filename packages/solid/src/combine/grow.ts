import { faceNormals, type Mesh } from '@kinprint/mesh';

/**
 * A closed surface with every face moved outward by `by_mm`; inward where that is negative.
 *
 * Each vertex moves so that the planes of its faces do, in the least-squares sense: exactly where up to three planes
 * meet, nearly where more do. It never moves farther than four times the distance: at needles the faces move less.
 * The least squares are those of quadric error metrics (Garland & Heckbert, "Surface Simplification Using Quadric Error
 * Metrics", SIGGRAPH 1997), each face weighted by its angle at the vertex, so that triangulation plays no role.
 */
export function grown(mesh: Mesh, by_mm: number): Mesh {
  const { positions, triangles } = mesh;
  // Three numbers per face, so they begin at the index of its first corner; zero for one without area.
  const { normals } = faceNormals(mesh);
  // Per vertex: the six different entries of Σ w n nᵀ, and Σ w n.
  const sums = new Float64Array(3 * positions.length);
  for (let h = 0; h < triangles.length; h++) {
    const face = h - (h % 3);
    const x = normals[face];
    const y = normals[face + 1];
    const z = normals[face + 2];
    const next = triangles[face + ((h + 1) % 3)];
    const last = triangles[face + ((h + 2) % 3)];
    const w = angleAt(positions, 3 * triangles[h], 3 * next, 3 * last);
    const at = 9 * triangles[h];
    sums[at] += w * x * x;
    sums[at + 1] += w * x * y;
    sums[at + 2] += w * x * z;
    sums[at + 3] += w * y * y;
    sums[at + 4] += w * y * z;
    sums[at + 5] += w * z * z;
    sums[at + 6] += w * x;
    sums[at + 7] += w * y;
    sums[at + 8] += w * z;
  }
  const moved = Float64Array.from(positions);
  for (let v = 0; v < positions.length; v += 3) {
    const [x, y, z] = solve(sums, 3 * v);
    moved[v] += by_mm * x;
    moved[v + 1] += by_mm * y;
    moved[v + 2] += by_mm * z;
  }
  return { positions: moved, triangles };
}

/** The weight, relative to the faces', of staying where it is: settles what the planes leave open. */
const rest = 1e-4;
/** No vertex moves farther than this many times the distance. */
export const farthest = 4;

/** The motion that moves every plane by 1, from the nine sums that begin at `i`. */
function solve(sums: Float64Array, i: number): readonly [number, number, number] {
  const [xx0, xy, xz, yy0, yz, zz0] = [
    sums[i],
    sums[i + 1],
    sums[i + 2],
    sums[i + 3],
    sums[i + 4],
    sums[i + 5],
  ];
  const [bx, by, bz] = [sums[i + 6], sums[i + 7], sums[i + 8]];
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

/** The angle at the point whose coordinates begin at `at`, between those at `to` and `other`; 0 where they coincide. */
function angleAt(p: Positions, at: number, to: number, other: number): number {
  const ux = p[to] - p[at];
  const uy = p[to + 1] - p[at + 1];
  const uz = p[to + 2] - p[at + 2];
  const vx = p[other] - p[at];
  const vy = p[other + 1] - p[at + 1];
  const vz = p[other + 2] - p[at + 2];
  const lengths = Math.sqrt((ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz));
  if (!(lengths > 0)) return 0;
  return Math.acos(Math.max(-1, Math.min(1, (ux * vx + uy * vy + uz * vz) / lengths)));
}
