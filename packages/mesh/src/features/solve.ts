/**
 * Solves the symmetric positive definite n × n system `matrix · x = right` by Cholesky factors, in place; the
 * solution lands in `right`. False when the matrix is not positive definite to working precision.
 */
export function solveSpd(matrix: Float64Array, right: Float64Array, n: number): boolean {
  for (let j = 0; j < n; j++) {
    let d = matrix[j * n + j];
    const scale = d;
    for (let k = 0; k < j; k++) d -= matrix[j * n + k] * matrix[j * n + k];
    if (!(d > 1e-14 * scale) || !(scale > 0)) return false;
    d = Math.sqrt(d);
    matrix[j * n + j] = d;
    for (let i = j + 1; i < n; i++) {
      let s = matrix[i * n + j];
      for (let k = 0; k < j; k++) s -= matrix[i * n + k] * matrix[j * n + k];
      matrix[i * n + j] = s / d;
    }
  }
  for (let i = 0; i < n; i++) {
    let s = right[i];
    for (let k = 0; k < i; k++) s -= matrix[i * n + k] * right[k];
    right[i] = s / matrix[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let s = right[i];
    for (let k = i + 1; k < n; k++) s -= matrix[k * n + i] * right[k];
    right[i] = s / matrix[i * n + i];
  }
  return true;
}
