/**
 * Whether a rectangle of sides p and q lies within one of sides a and b when it may be turned.
 *
 * @remarks With p ≥ q and a ≥ b, where p > a: exactly when b (p² + q²) ≥ 2 p q a + (p² − q²) √(p² + q² − a²).
 *   W. B. Carver, Problem E 1225 (solution), The American Mathematical Monthly 64 (1957), 114–116.
 */
export function rectangleFits(p: number, q: number, a: number, b: number): boolean {
  const [long, short] = p >= q ? [p, q] : [q, p];
  const [width, depth] = a >= b ? [a, b] : [b, a];
  if (short > depth) return false;
  if (long <= width) return true;
  const sum = long * long + short * short;
  const root = Math.sqrt(sum - width * width);
  return depth * sum >= 2 * long * short * width + (long * long - short * short) * root;
}
