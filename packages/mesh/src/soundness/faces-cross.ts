import { side } from '../topology/predicates.ts';
import { overlapInPlane } from './flat-overlap.ts';

/**
 * Do two faces cross, or overlap in one plane? Exact, for three different corners each.
 *
 * Faces cross when each has corners strictly on both sides of the other's plane and they have more than a point in
 * common. Faces that only touch (a corner or an edge of one lies in the other) do not cross, and neither do faces
 * that meet in a common corner or edge and nowhere else. Faces with the same three corners do not count.
 *
 * Cases of different planes: P. Guigue, O. Devillers, Fast and robust triangle-triangle overlap test using
 * orientation predicates, J. Graphics Tools 8(1), 2003.
 */
export function facesCross(
  positions: ArrayLike<number>,
  triangles: Uint32Array,
  f: number,
  g: number,
): boolean {
  const a = triangles[3 * f];
  const b = triangles[3 * f + 1];
  const c = triangles[3 * f + 2];
  const d = triangles[3 * g];
  const e = triangles[3 * g + 1];
  const h = triangles[3 * g + 2];
  // Bit k: corner k of f is a corner of g.
  const ofF =
    +(a === d || a === e || a === h) |
    (+(b === d || b === e || b === h) << 1) |
    (+(c === d || c === e || c === h) << 2);
  if (ofF === 0) return apartCross(positions, 3 * a, 3 * b, 3 * c, 3 * d, 3 * e, 3 * h);
  if (ofF === 7) return false;
  const ofG =
    +(d === a || d === b || d === c) |
    (+(e === a || e === b || e === c) << 1) |
    (+(h === a || h === b || h === c) << 2);
  if (ofF === 1 || ofF === 2 || ofF === 4) {
    const k = ofF >> 1;
    const m = ofG >> 1;
    return cornerCross(
      positions,
      3 * triangles[3 * f + k],
      3 * triangles[3 * f + ((k + 1) % 3)],
      3 * triangles[3 * f + ((k + 2) % 3)],
      3 * triangles[3 * g + ((m + 1) % 3)],
      3 * triangles[3 * g + ((m + 2) % 3)],
    );
  }
  // A common edge: off the plane of f, the other corner of g keeps the faces apart.
  const other = 3 * (ofG === 6 ? d : ofG === 5 ? e : h);
  if (side(positions, 3 * a, 3 * b, 3 * c, positions, other) !== 0) return false;
  return overlapInPlane(positions, 3 * a, 3 * b, 3 * c, 3 * d, 3 * e, 3 * h);
}

/** Do two faces lie in one plane? Exact. */
export function inOnePlane(
  positions: ArrayLike<number>,
  triangles: Uint32Array,
  f: number,
  g: number,
): boolean {
  const [a, b, c] = [0, 1, 2].map(k => 3 * triangles[3 * f + k]);
  return [0, 1, 2].every(k => side(positions, a, b, c, positions, 3 * triangles[3 * g + k]) === 0);
}

/** Faces a b c and a d e with corner a in common. */
function cornerCross(p: ArrayLike<number>, a: number, b: number, c: number, d: number, e: number): boolean {
  const sideB = side(p, a, d, e, p, b);
  const sideC = side(p, a, d, e, p, c);
  if (sideB === 0 && sideC === 0) return overlapInPlane(p, a, b, c, a, d, e);
  if (!(sideB > 0 && sideC < 0) && !(sideB < 0 && sideC > 0)) return false;
  const sideD = side(p, a, b, c, p, d);
  const sideE = side(p, a, b, c, p, e);
  if (!(sideD > 0 && sideE < 0) && !(sideD < 0 && sideE > 0)) return false;
  // Each meets the other's plane along a way from a; the ways are one when b and d see each other's faces unalike.
  return sideB > 0 !== sideD > 0;
}

/** Faces a b c and d e f without common corners. */
function apartCross(
  p: ArrayLike<number>,
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  f: number,
): boolean {
  const sideA = side(p, d, e, f, p, a);
  const sideB = side(p, d, e, f, p, b);
  const sideC = side(p, d, e, f, p, c);
  if (sideA === 0 && sideB === 0 && sideC === 0) return overlapInPlane(p, a, b, c, d, e, f);
  if (!straddles(sideA, sideB, sideC)) return false;
  const sideD = side(p, a, b, c, p, d);
  const sideE = side(p, a, b, c, p, e);
  const sideF = side(p, a, b, c, p, f);
  if (!straddles(sideD, sideE, sideF)) return false;
  // Turn both so that the first corner is alone on its side, then so that it is on the other face's front.
  const one = loneFirst(a, b, c, sideA, sideB, sideC);
  const two = loneFirst(d, e, f, sideD, sideE, sideF);
  const [p1] = one.corners;
  const [p2] = two.corners;
  const [, q1, r1] = two.front ? one.corners : [p1, one.corners[2], one.corners[1]];
  const [, q2, r2] = one.front ? two.corners : [p2, two.corners[2], two.corners[1]];
  // On the common line, do the faces' stretches overlap in more than a point?
  return side(p, p1, q1, p2, p, q2) < 0 && side(p, p1, r1, r2, p, p2) < 0;
}

function straddles(a: number, b: number, c: number): boolean {
  return (a > 0 || b > 0 || c > 0) && (a < 0 || b < 0 || c < 0);
}

/** The corners turned so that the first is strictly alone on its side; `front` when that side is positive. */
function loneFirst(
  a: number,
  b: number,
  c: number,
  sideA: number,
  sideB: number,
  sideC: number,
): { corners: [number, number, number]; front: boolean } {
  const positive = +(sideA > 0) + +(sideB > 0) + +(sideC > 0);
  const front = positive === 1;
  const lone = (s: number) => (front ? s > 0 : s < 0);
  if (lone(sideA)) return { corners: [a, b, c], front };
  if (lone(sideB)) return { corners: [b, c, a], front };
  return { corners: [c, a, b], front };
}
