import type { FacingReach } from './facing-reach.ts';
import { behind, beside, type Corners } from './pair-tests.ts';

export interface FacingPieces extends FacingReach {
  /** Of the tree. */
  readonly vertices: Float64Array;
  /** Unit outward normals, 3 per face. */
  readonly normals: Float64Array;
}

/** Pieces of one face: itself, and three corners or edges at sharp ridges at most. */
const most = 4;
type Pieces = readonly [number, number, number][];
const make = (): Pieces => Array.from({ length: most }, () => [0, 0, 0]);
const piecesA = make();
const piecesB = make();

/**
 * Whether two faces may face each other nearer than the bound, as far as a few products tell: each must lie behind the
 * other, and over it as seen along its normal. A face that ends in a sharp ridge may face far off its normal, but only
 * at the ridge: a long facet of a bore only at its ends.
 *
 * @param cornersA offsets of the corners into `vertices`, in the order in which the mesh has them
 */
export function mayFace(
  of: FacingPieces,
  a: number,
  cornersA: Corners,
  b: number,
  cornersB: Corners,
  bound: number,
): boolean {
  if (isBehind(of, a, cornersA, cornersB, bound) || isBehind(of, b, cornersB, cornersA, bound)) return false;
  const { vertices: v, normals: n, ridges, smooth, reach } = of;
  const against = -(n[3 * a] * n[3 * b] + n[3 * a + 1] * n[3 * b + 1] + n[3 * a + 2] * n[3 * b + 2]);
  const asideA = bound * sine(smooth[a]);
  const asideB = bound * sine(smooth[b]);
  if (
    against >= cosine(smooth[a] + smooth[b]) &&
    !beside(v, n, a, cornersA, cornersB, asideA) &&
    !beside(v, n, b, cornersB, cornersA, asideB)
  )
    return true;
  if (ridges[a] === 0 && ridges[b] === 0) return false;
  const countA = piecesOf(ridges[a], cornersA, piecesA);
  const countB = piecesOf(ridges[b], cornersB, piecesB);
  const ridgeA = bound * sine(reach[a]);
  const ridgeB = bound * sine(reach[b]);
  for (let i = 0; i < countA; i++) {
    for (let j = i === 0 ? 1 : 0; j < countB; j++) {
      const both = (i === 0 ? smooth[a] : reach[a]) + (j === 0 ? smooth[b] : reach[b]);
      if (against < cosine(both)) continue;
      const [p, q] = [piecesA[i], piecesB[j]];
      if (isBehind(of, a, cornersA, q, bound) || isBehind(of, b, cornersB, p, bound)) continue;
      if (beside(v, n, a, cornersA, q, i === 0 ? asideA : ridgeA)) continue;
      if (!beside(v, n, b, cornersB, p, j === 0 ? asideB : ridgeB)) return true;
    }
  }
  return false;
}

function isBehind(
  { vertices, normals }: FacingPieces,
  f: number,
  own: Corners,
  other: Corners,
  bound: number,
): boolean {
  return behind(vertices, normals, f, own, other, bound);
}

/** How far aside a line leads at most, as a share of its length; Infinity when it may lead anywhere. */
export function sine(reach: number): number {
  return reach < 1.57 ? Math.sin(reach + 1e-6) : Infinity;
}

/** Least cosine between directions this far apart at most. */
function cosine(angle: number): number {
  return angle < Math.PI ? Math.cos(angle) - 1e-6 : -Infinity;
}

/** The face, then its corners and edges at sharp ridges, as triangles without area. */
function piecesOf(ridges: number, corners: Corners, into: Pieces): number {
  fill(into[0], corners[0], corners[1], corners[2]);
  let count = 1;
  for (let k = 0; k < 3; k++) {
    const next = corners[k === 2 ? 0 : k + 1];
    if ((ridges & (8 << k)) !== 0) fill(into[count++], corners[k], next, next);
    // The corner at the end of a ridge is on it already.
    else if ((ridges & (1 << k)) !== 0 && (ridges & (8 << ((k + 2) % 3))) === 0)
      fill(into[count++], corners[k], corners[k], corners[k]);
  }
  return count;
}

function fill(piece: [number, number, number], a: number, b: number, c: number): void {
  piece[0] = a;
  piece[1] = b;
  piece[2] = c;
}
