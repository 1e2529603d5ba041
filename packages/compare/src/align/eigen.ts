/**
 * Eigenvalues (descending) and unit eigenvectors (rows) of a symmetric n×n matrix, rows first, by cyclic Jacobi
 * rotations. n is 3 to 7 here. Source: Golub & Van Loan, Matrix Computations, 4th ed. (2013), section 8.5.
 */
export function symmetricEigen(
  matrix: ArrayLike<number>,
  n: number,
): { values: number[]; vectors: number[][] } {
  const a = Float64Array.from(matrix);
  const v = new Float64Array(n * n);
  for (let k = 0; k < n; k += 1) v[k * n + k] = 1;
  for (let sweep = 0; sweep < 30; sweep += 1) {
    let off = 0;
    let trace = 0;
    for (let p = 0; p < n; p += 1) {
      trace += Math.abs(a[p * n + p]);
      for (let q = p + 1; q < n; q += 1) off += Math.abs(a[p * n + q]);
    }
    if (!(off > 1e-17 * trace)) break;
    for (let p = 0; p < n; p += 1) {
      for (let q = p + 1; q < n; q += 1) rotate(a, v, n, p, q);
    }
  }
  const order = Array.from({ length: n }, (_, k) => k).sort((i, j) => a[j * n + j] - a[i * n + i] || i - j);
  return {
    values: order.map(k => a[k * n + k]),
    vectors: order.map(k => Array.from({ length: n }, (_, i) => v[i * n + k])),
  };
}

function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const apq = a[p * n + q];
  if (apq === 0) return;
  const theta = (a[q * n + q] - a[p * n + p]) / (2 * apq);
  const t =
    Math.abs(theta) > 1e150
      ? 0.5 / theta
      : (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (let k = 0; k < n; k += 1) {
    const akp = a[k * n + p];
    const akq = a[k * n + q];
    a[k * n + p] = c * akp - s * akq;
    a[k * n + q] = s * akp + c * akq;
  }
  for (let k = 0; k < n; k += 1) {
    const apk = a[p * n + k];
    const aqk = a[q * n + k];
    a[p * n + k] = c * apk - s * aqk;
    a[q * n + k] = s * apk + c * aqk;
    const vkp = v[k * n + p];
    const vkq = v[k * n + q];
    v[k * n + p] = c * vkp - s * vkq;
    v[k * n + q] = s * vkp + c * vkq;
  }
}
