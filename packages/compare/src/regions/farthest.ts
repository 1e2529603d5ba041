import { closestHit, closestPoint, distanceSqToTriangle, type Mesh, type TriangleTree } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';

/** A piece of a facet that waits to be looked at: its corners, and how far any of its points can be at most. */
interface Piece {
  readonly corners: Float64Array;
  readonly bound: number;
}

/**
 * The largest distance of any point of a surface from another surface, in mm.
 *
 * Branch and bound over the facets. No point of a facet is farther from the surface than from the one face nearest to
 * the facet's middle, and the distance to that convex face is greatest at a corner of the facet. Facets are quartered
 * until none can exceed the best point by more than `depthError` of it.
 *
 * @param mostPieces how many pieces to look at; each corner and the middle of each facet is looked at in any case
 * @returns a distance that is reached; the true maximum is at most `1 + depthError` times it, unless `mostPieces`
 *   ended the search (then it is a lower bound)
 */
export function farthest(
  mesh: Mesh,
  other: TriangleTree,
  mostPieces: number = compareDefaults.depthPieces,
): number {
  const { depthError } = compareDefaults;
  const { vertices, corners } = other;
  if (other.size === 0) return 0;
  const hit = closestHit();
  const p = mesh.positions;
  let best = 0;
  const distance = (x: number, y: number, z: number): number => {
    closestPoint(other, x, y, z, hit, Infinity, hit.face);
    const d = Math.sqrt(hit.distanceSq);
    if (d > best) best = d;
    return d;
  };
  for (let v = 0; v < p.length; v += 3) distance(p[v], p[v + 1], p[v + 2]);

  const measured = (c: Float64Array): Piece => {
    const x = (c[0] + c[3] + c[6]) / 3;
    const y = (c[1] + c[4] + c[7]) / 3;
    const z = (c[2] + c[5] + c[8]) / 3;
    distance(x, y, z);
    const s = 3 * hit.slot;
    let bound = 0;
    for (let k = 0; k < 9; k += 3) {
      const d = distanceSqToTriangle(
        vertices,
        3 * corners[s],
        3 * corners[s + 1],
        3 * corners[s + 2],
        c[k],
        c[k + 1],
        c[k + 2],
      );
      if (d > bound) bound = d;
    }
    return { corners: c, bound: Math.sqrt(bound) };
  };
  let pieces: Piece[] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const c = new Float64Array(9);
    for (let k = 0; k < 3; k += 1)
      c.set(p.subarray(3 * mesh.triangles[t + k], 3 * mesh.triangles[t + k] + 3), 3 * k);
    pieces.push(measured(c));
  }
  let looked = pieces.length;
  while (looked < mostPieces) {
    const open = pieces.filter(piece => piece.bound > (1 + depthError) * best);
    if (open.length === 0) break;
    pieces = [];
    for (const { corners } of open) for (const quarter of quarters(corners)) pieces.push(measured(quarter));
    looked += pieces.length;
  }
  return best;
}

/** A triangle cut at the middles of its edges: one piece per corner, and the middle one. */
function quarters(c: Float64Array): Float64Array[] {
  const found = [0, 1, 2, 3].map(() => new Float64Array(9));
  for (let k = 0; k < 3; k += 1) {
    const [a, b, d] = [c[k], c[k + 3], c[k + 6]];
    for (let i = 0; i < 3; i += 1) {
      const from = c[k + 3 * i];
      found[i][k] = (from + a) / 2;
      found[i][k + 3] = (from + b) / 2;
      found[i][k + 6] = (from + d) / 2;
    }
    found[3][k] = (a + b) / 2;
    found[3][k + 3] = (b + d) / 2;
    found[3][k + 6] = (d + a) / 2;
  }
  return found;
}
