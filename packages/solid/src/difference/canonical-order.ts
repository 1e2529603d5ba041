import type { Body } from '../body.ts';

/**
 * Whether `a` comes before `b` in an order that depends on nothing but the two shapes.
 *
 * The kernel numbers solids as they come and orders its results by these numbers, and vertices are snapped one way
 * only. Working in this order makes changing places swap added and removed material down to the last bit.
 */
export function comesFirst(a: Shape, b: Shape): boolean {
  const order =
    a.volume_mm3 - b.volume_mm3 ||
    a.area_mm2 - b.area_mm2 ||
    byNumbers(a.mesh.positions, b.mesh.positions) ||
    byNumbers(a.mesh.triangles, b.mesh.triangles);
  return order <= 0;
}

/** A mesh with its figures. */
type Shape = Pick<Body, 'mesh' | 'volume_mm3' | 'area_mm2'>;

type Numbers = Float32Array | Float64Array | Uint32Array;

function byNumbers(p: Numbers, q: Numbers): number {
  if (p.length !== q.length) return p.length - q.length;
  for (let i = 0; i < p.length; i++) {
    if (p[i] !== q[i]) return p[i] - q[i];
  }
  return 0;
}
