import { turn } from '../topology/predicates.ts';

/**
 * Do two triangles of one plane overlap in more than points and edges? Exact. Corners as indices ·3 into
 * `positions`; a triangle without area overlaps nothing.
 */
export function overlapInPlane(
  positions: ArrayLike<number>,
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  f: number,
): boolean {
  const p = positions;
  const x = widestView(p, a, b, c);
  const y = x === 2 ? 0 : x + 1;
  const first = turn(p[a + x], p[a + y], p[b + x], p[b + y], p[c + x], p[c + y]);
  const second = turn(p[d + x], p[d + y], p[e + x], p[e + y], p[f + x], p[f + y]);
  if (first === 0 || second === 0) return false;
  // Convex figures have disjoint interiors exactly when the line of an edge of one separates them.
  return !(
    separates(p, x, y, a, b, first, d, e, f) ||
    separates(p, x, y, b, c, first, d, e, f) ||
    separates(p, x, y, c, a, first, d, e, f) ||
    separates(p, x, y, d, e, second, a, b, c) ||
    separates(p, x, y, e, f, second, a, b, c) ||
    separates(p, x, y, f, d, second, a, b, c)
  );
}

/** Do i, j, k all lie on or outside the line from `from` to `to`, of a triangle that turns as `way` says? */
function separates(
  p: ArrayLike<number>,
  x: number,
  y: number,
  from: number,
  to: number,
  way: number,
  i: number,
  j: number,
  k: number,
): boolean {
  const ax = p[from + x];
  const ay = p[from + y];
  const bx = p[to + x];
  const by = p[to + y];
  if (way > 0) {
    return (
      turn(ax, ay, bx, by, p[i + x], p[i + y]) <= 0 &&
      turn(ax, ay, bx, by, p[j + x], p[j + y]) <= 0 &&
      turn(ax, ay, bx, by, p[k + x], p[k + y]) <= 0
    );
  }
  return (
    turn(ax, ay, bx, by, p[i + x], p[i + y]) >= 0 &&
    turn(ax, ay, bx, by, p[j + x], p[j + y]) >= 0 &&
    turn(ax, ay, bx, by, p[k + x], p[k + y]) >= 0
  );
}

/** First axis of the coordinate plane (x y, y z or z x) on which the triangle's shadow is largest. */
function widestView(p: ArrayLike<number>, a: number, b: number, c: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const xy = Math.abs(ux * vy - uy * vx);
  const yz = Math.abs(uy * vz - uz * vy);
  const zx = Math.abs(uz * vx - ux * vz);
  if (xy >= yz && xy >= zx) return 0;
  return yz >= zx ? 1 : 2;
}
