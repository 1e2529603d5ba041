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
  const [x, y] = widestView(positions, a, b, c);
  const p = positions;
  const facing = (i: number, j: number, k: number) =>
    turn(p[i + x], p[i + y], p[j + x], p[j + y], p[k + x], p[k + y]);
  const first = facing(a, b, c);
  const second = facing(d, e, f);
  if (first === 0 || second === 0) return false;
  const one = first > 0 ? [a, b, c] : [a, c, b];
  const two = second > 0 ? [d, e, f] : [d, f, e];
  // Convex figures have disjoint interiors exactly when the line of an edge of one separates them.
  return !separates(one, two) && !separates(two, one);

  function separates(own: number[], other: number[]): boolean {
    for (let k = 0; k < 3; k++) {
      const from = own[k];
      const to = own[(k + 1) % 3];
      if (
        facing(from, to, other[0]) <= 0 &&
        facing(from, to, other[1]) <= 0 &&
        facing(from, to, other[2]) <= 0
      ) {
        return true;
      }
    }
    return false;
  }
}

/** The two axes of the coordinate plane on which the triangle's shadow is largest. */
function widestView(p: ArrayLike<number>, a: number, b: number, c: number): [number, number] {
  let best: [number, number] = [0, 1];
  let largest = -1;
  for (const [x, y] of [
    [0, 1],
    [1, 2],
    [2, 0],
  ] as const) {
    const shadow = Math.abs(
      (p[b + x] - p[a + x]) * (p[c + y] - p[a + y]) - (p[b + y] - p[a + y]) * (p[c + x] - p[a + x]),
    );
    if (shadow > largest) {
      largest = shadow;
      best = [x, y];
    }
  }
  return best;
}
