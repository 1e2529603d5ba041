import { orient2d, orient3d } from 'robust-predicates';

/**
 * Signs of determinants, exact for all finite doubles short of overflow and underflow
 * (J. R. Shewchuk, Adaptive precision floating-point arithmetic and fast robust geometric predicates, 1997).
 */

/** Positive when a, b, c turn counter-clockwise (x to the right, y up), negative clockwise, 0 on one line. */
export function turn(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  // The library's y axis points down.
  return -orient2d(ax, ay, bx, by, cx, cy);
}

/** Positive when a, b, c are seen counter-clockwise from d (right-handed axes), 0 on one plane. Points by index ·3. */
export function side(
  positions: ArrayLike<number>,
  a: number,
  b: number,
  c: number,
  d: ArrayLike<number>,
  at: number,
): number {
  const p = positions;
  // The library's sign is that for a view from the other side.
  return -orient3d(
    p[a],
    p[a + 1],
    p[a + 2],
    p[b],
    p[b + 1],
    p[b + 2],
    p[c],
    p[c + 1],
    p[c + 2],
    d[at],
    d[at + 1],
    d[at + 2],
  );
}
