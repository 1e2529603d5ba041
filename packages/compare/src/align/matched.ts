import { closestHit, closestPoint } from '@kinprint/mesh';
import type { Pair, Shape } from './pair.ts';
import { determinantOf, invertPlacement, type Placement } from './placement.ts';
import { matchTriangles, type TriangleMatch } from './triangle-match.ts';

/** How much of both surfaces coincides under a placement. */
export interface Matched {
  /** Shares of the areas, 0…1, that lie within the tolerance of the other surface. */
  readonly before: number;
  readonly after: number;
  /** Every tested point of both surfaces lies within the tolerance; see `matchedShares`. */
  readonly exact: boolean;
  /** The very same triangles in both meshes. */
  readonly sameTriangles: boolean;
  /** One mesh is the other turned inside out: told by the like triangles, null when there are none. */
  readonly insideOut: boolean | null;
  readonly triangles: TriangleMatch;
}

/** Points per side, spread evenly over the faces that have no like face: a share is then known to about ±1 %. */
const SHARE_POINTS = 6000;

/**
 * Measures what coincides. Faces that are the same triangle on both sides within rounding are matched as they are;
 * points on the others are measured against the other surface: every corner, and at least one inner point, more on
 * large faces. `exact` holds when all of them lie within the tolerance. That is no proof: the comparison bounds the
 * deviation afterwards.
 */
export function matchedShares(pair: Pair, m: Placement): Matched {
  const { before, after, tolerance } = pair;
  const triangles = matchTriangles(before.surface.mesh, after.surface.mesh, m, pair.floorGrid());
  const inverse = invertPlacement(m);
  const determinant = determinantOf(m);
  const scale = Math.cbrt(Math.abs(determinant));
  const isOpenBefore = (f: number): boolean => triangles.beforeToAfter[f] < 0;
  const isOpenAfter = (g: number): boolean => triangles.afterMatched[g] === 0;
  const a = sideShare(before, after, m, tolerance, isOpenBefore);
  const b = sideShare(after, before, inverse, tolerance / scale, isOpenAfter);
  const sameTriangles =
    triangles.matched === triangles.beforeToAfter.length && triangles.afterMatched.every(x => x === 1);
  const exact =
    a.all &&
    b.all &&
    cornersWithin(before, after, m, tolerance, isOpenBefore) &&
    cornersWithin(after, before, inverse, tolerance / scale, isOpenAfter);
  return {
    before: a.share,
    after: b.share,
    exact,
    sameTriangles,
    // A reflection turns the corners' order round; a twin that was not given the other order is inside out.
    insideOut: triangles.matched === 0 ? null : 2 * triangles.turned > triangles.matched !== determinant < 0,
    triangles,
  };
}

const shareHit = closestHit();

function sideShare(
  from: Shape,
  to: Shape,
  m: Placement,
  tolerance: number,
  isOpen: (face: number) => boolean,
): { share: number; all: boolean } {
  const { mesh, faceArea, area } = from.surface;
  const { positions: p, triangles: t } = mesh;
  let open = 0;
  let openFaces = 0;
  for (let f = 0; f < faceArea.length; f += 1) {
    if (!isOpen(f)) continue;
    open += faceArea[f];
    if (faceArea[f] > 0) openFaces += 1;
  }
  if (openFaces === 0) return { share: 1, all: true };
  const toleranceSq = tolerance * tolerance * (1 + 1e-9);
  const perArea = SHARE_POINTS / open;
  // Of very many faces a regular selection is looked at; a first miss settles `all`.
  const step = Math.max(1, Math.floor(openFaces / SHARE_POINTS));
  let all = true;
  let seen = 0;
  let within = 0;
  let turn = 0;
  let hint = -1;
  for (let f = 0; f < faceArea.length; f += 1) {
    if (!(faceArea[f] > 0) || !isOpen(f)) continue;
    turn += 1;
    if (!all && step > 1 && turn % step !== 0) continue;
    const n = Math.min(64, Math.max(1, Math.round(Math.sqrt(faceArea[f] * perArea))));
    const i = 3 * t[3 * f];
    const j = 3 * t[3 * f + 1];
    const k = 3 * t[3 * f + 2];
    let hits = 0;
    // n² inner points: the centers of the n² like triangles the face divides into.
    for (let r = 0; r < n; r += 1) {
      for (let s = 0; s < 2 * (n - r) - 1; s += 1) {
        const up = (s & 1) === 0 ? 1 : 2;
        const u = (r + up / 3) / n;
        const v = ((s >> 1) + up / 3) / n;
        const w = 1 - u - v;
        const x = w * p[i] + u * p[j] + v * p[k];
        const y = w * p[i + 1] + u * p[j + 1] + v * p[k + 1];
        const z = w * p[i + 2] + u * p[j + 2] + v * p[k + 2];
        closestPoint(
          to.tree,
          m[0] * x + m[1] * y + m[2] * z + m[3],
          m[4] * x + m[5] * y + m[6] * z + m[7],
          m[8] * x + m[9] * y + m[10] * z + m[11],
          shareHit,
          toleranceSq,
          hint,
        );
        if (shareHit.face >= 0) {
          hits += 1;
          hint = shareHit.face;
        }
      }
    }
    if (hits < n * n) all = false;
    seen += faceArea[f];
    within += (faceArea[f] * hits) / (n * n);
  }
  const share = (area - open + (seen > 0 ? (within / seen) * open : 0)) / area;
  return { share: Math.min(1, Math.max(0, share)), all };
}

function cornersWithin(
  from: Shape,
  to: Shape,
  m: Placement,
  tolerance: number,
  isOpen: (face: number) => boolean,
): boolean {
  const { mesh, faceArea } = from.surface;
  const { positions: p, triangles: t } = mesh;
  const done = new Uint8Array(p.length / 3);
  const toleranceSq = tolerance * tolerance * (1 + 1e-9);
  for (let f = 0; f < faceArea.length; f += 1) {
    if (!isOpen(f)) continue;
    for (let c = 0; c < 3; c += 1) {
      const v = t[3 * f + c];
      if (done[v] === 1) continue;
      done[v] = 1;
      const x = p[3 * v];
      const y = p[3 * v + 1];
      const z = p[3 * v + 2];
      closestPoint(
        to.tree,
        m[0] * x + m[1] * y + m[2] * z + m[3],
        m[4] * x + m[5] * y + m[6] * z + m[7],
        m[8] * x + m[9] * y + m[10] * z + m[11],
        shareHit,
        toleranceSq,
        shareHit.face,
      );
      if (shareHit.face < 0) return false;
    }
  }
  return true;
}
