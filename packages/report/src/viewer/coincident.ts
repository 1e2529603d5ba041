import { closestHit, closestPoint, type Mesh, type TriangleTree } from '@kinprint/mesh';

/**
 * Of each face, whether it lies on another surface: its corners and its middle do, within a distance. The surface of a
 * piece of material that was added or removed lies in part on the one state and in part on the other.
 */
export function coincidentFaces(
  { positions: p, triangles: t }: Mesh,
  tree: TriangleTree,
  within_mm: number,
): Uint8Array {
  const hit = closestHit();
  const limitSq = within_mm * within_mm;
  const near = (x: number, y: number, z: number): boolean => {
    closestPoint(tree, x, y, z, hit, limitSq);
    return hit.face >= 0;
  };
  // 0: not asked yet, 1: away, 2: near.
  const known = new Uint8Array(p.length / 3);
  const cornerNear = (v: number): boolean => {
    if (known[v] === 0) known[v] = near(p[3 * v], p[3 * v + 1], p[3 * v + 2]) ? 2 : 1;
    return known[v] === 2;
  };
  const lies = new Uint8Array(t.length / 3);
  for (let f = 0; f < lies.length; f++) {
    const [a, b, c] = [t[3 * f], t[3 * f + 1], t[3 * f + 2]];
    if (!(cornerNear(a) && cornerNear(b) && cornerNear(c))) continue;
    const middle = (axis: number): number => (p[3 * a + axis] + p[3 * b + axis] + p[3 * c + axis]) / 3;
    lies[f] = near(middle(0), middle(1), middle(2)) ? 1 : 0;
  }
  return lies;
}
