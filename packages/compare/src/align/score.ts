import { closestHit, closestPoint } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';
import type { Pair, Shape } from './pair.ts';
import { determinantOf, invertPlacement, linearOf, transpose3, type Placement } from './placement.ts';

/** How well two surfaces lie on one another under a placement, from sample points of both. */
export interface Score {
  /** 0…1. A point counts 1 within `near`, and less with the logarithm of its distance down to 0 at `far`. */
  readonly value: number;
  /** False when the search was broken off: `value` is then an upper bound that lies below the bar. */
  readonly complete: boolean;
  /** The surfaces lie on one another inside out: the faces of one mesh are all turned round. */
  readonly insideOut: boolean;
}

export interface Ruler {
  readonly near: number;
  readonly far: number;
}

/**
 * The ruler that tells good placements from better ones. The logarithm lets exactness win over roughness: half a
 * surface that fits to the micron beats a whole one that fits to half a millimeter.
 */
export function fineRuler(pair: Pair): Ruler {
  const far = compareDefaults.alignFarOfDiagonal * pair.after.surface.diagonal;
  return { near: Math.min(pair.tolerance, far / 4), far };
}

/** For first guesses that are degrees and millimeters off. */
export function roughRuler(pair: Pair): Ruler {
  const { diagonal } = pair.after.surface;
  return { near: 0.005 * diagonal, far: 0.1 * diagonal };
}

const scoreHit = closestHit();

/**
 * Scores a placement with the first `count` samples of each shape, both ways in turn, and gives up as soon as it
 * cannot reach `bar` any more.
 */
export function scorePlacement(pair: Pair, m: Placement, ruler: Ruler, count: number, bar = 0): Score {
  const inverse = invertPlacement(m);
  const scale = Math.cbrt(Math.abs(determinantOf(m)));
  const forth = oneWay(pair.before, pair.after, m, inverse, 1, ruler);
  const back = oneWay(pair.after, pair.before, inverse, m, scale, ruler);
  const n = Math.min(count, pair.before.samples.count, pair.after.samples.count);
  const needed = bar * 2 * n;
  let same = 0;
  let turned = 0;
  for (let k = 0; k < n; k += 1) {
    const a = forth(k);
    if (a > 0) same += a;
    else turned -= a;
    const b = back(k);
    if (b > 0) same += b;
    else turned -= b;
    const best = Math.max(same, turned) + 2 * (n - 1 - k);
    if (best < needed) return { value: best / (2 * n), complete: false, insideOut: turned > same };
  }
  return { value: Math.max(same, turned) / (2 * n), complete: true, insideOut: turned > same };
}

/** The contribution of sample k: positive with normals alike, negative with normals opposed, 0 otherwise. */
function oneWay(from: Shape, to: Shape, m: Placement, inverse: Placement, scale: number, ruler: Ruler) {
  const { points, normals } = from.samples;
  const normalMap = transpose3(linearOf(inverse));
  const toNormals = to.surface.faceNormal;
  const farSq = (ruler.far / scale) ** 2;
  const nearSq = (ruler.near / scale) ** 2;
  const perLog = 1 / Math.log(farSq / nearSq);
  const cosine = compareDefaults.alignNormalCosine;
  return (k: number): number => {
    const x = points[3 * k];
    const y = points[3 * k + 1];
    const z = points[3 * k + 2];
    const qx = m[0] * x + m[1] * y + m[2] * z + m[3];
    const qy = m[4] * x + m[5] * y + m[6] * z + m[7];
    const qz = m[8] * x + m[9] * y + m[10] * z + m[11];
    closestPoint(to.tree, qx, qy, qz, scoreHit, farSq);
    if (scoreHit.face < 0) return 0;
    const d = scoreHit.distanceSq;
    const nx = normals[3 * k];
    const ny = normals[3 * k + 1];
    const nz = normals[3 * k + 2];
    const ux = normalMap[0] * nx + normalMap[1] * ny + normalMap[2] * nz;
    const uy = normalMap[3] * nx + normalMap[4] * ny + normalMap[5] * nz;
    const uz = normalMap[6] * nx + normalMap[7] * ny + normalMap[8] * nz;
    const h = 3 * scoreHit.face;
    const along =
      (ux * toNormals[h] + uy * toNormals[h + 1] + uz * toNormals[h + 2]) / Math.hypot(ux, uy, uz);
    if (!(Math.abs(along) > cosine)) return 0;
    const worth = d <= nearSq ? 1 : Math.log(farSq / d) * perLog;
    return along > 0 ? worth : -worth;
  };
}
