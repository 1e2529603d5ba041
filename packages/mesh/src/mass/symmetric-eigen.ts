import type { Mat3, Vec3 } from '../types.ts';

/**
 * Eigenvalues (ascending) and unit eigenvectors (rows) of a symmetric 3×3 matrix, by cyclic Jacobi rotations
 * (C. G. J. Jacobi 1846; G. H. Golub, C. F. Van Loan, Matrix Computations, "Jacobi methods").
 *
 * The rows are right-handed. Signs are fixed: in the first two rows the component of largest size is positive (the
 * first of equal ones); the third is their cross product. Off-diagonal entries below 1e-13 of the largest entry are
 * rounding and are left alone, so an already diagonal matrix keeps its axes; equal eigenvalues keep the order of
 * the axes. Where eigenvalues are equal, their eigenvectors are one choice of many.
 */
export function symmetricEigen(matrix: Mat3): { values: Vec3; vectors: Mat3 } {
  const a = matrix.map(row => [...row]);
  const v = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const size = Math.max(...a.flat().map(Math.abs));
  const negligible = 1e-13 * size;
  for (let sweep = 0; sweep < 30; sweep++) {
    if (Math.max(Math.abs(a[0][1]), Math.abs(a[0][2]), Math.abs(a[1][2])) <= negligible) break;
    rotate(a, v, 0, 1);
    rotate(a, v, 0, 2);
    rotate(a, v, 1, 2);
  }
  const order = [0, 1, 2].sort((i, j) => a[i][i] - a[j][j] || i - j);
  const [first, second] = order.map(column => signed([v[0][column], v[1][column], v[2][column]]));
  const third = cross(first, second);
  return {
    values: order.map(i => a[i][i]) as unknown as Vec3,
    vectors: [first, second, third],
  };
}

/** One rotation in the plane of axes p and q that makes a[p][q] zero. */
function rotate(a: number[][], v: number[][], p: number, q: number): void {
  const off = a[p][q];
  if (off === 0) return;
  const theta = (a[q][q] - a[p][p]) / (2 * off);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  const r = 3 - p - q;
  const [pr, qr] = [a[p][r], a[q][r]];
  a[p][p] -= t * off;
  a[q][q] += t * off;
  a[p][q] = a[q][p] = 0;
  a[p][r] = a[r][p] = c * pr - s * qr;
  a[q][r] = a[r][q] = s * pr + c * qr;
  for (const row of v) {
    const [vp, vq] = [row[p], row[q]];
    row[p] = c * vp - s * vq;
    row[q] = s * vp + c * vq;
  }
}

function signed(axis: Vec3): Vec3 {
  const [x, y, z] = axis;
  const largest = Math.max(Math.abs(x), Math.abs(y), Math.abs(z)) * (1 - 1e-9);
  const lead = Math.abs(x) >= largest ? x : Math.abs(y) >= largest ? y : z;
  return lead < 0 ? [-x + 0, -y + 0, -z + 0] : axis;
}

function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1] + 0, a[2] * b[0] - a[0] * b[2] + 0, a[0] * b[1] - a[1] * b[0] + 0];
}
