import { closestHit, closestPoint, type Vec3 } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';
import { symmetricEigen } from './eigen.ts';
import type { Pair } from './pair.ts';
import {
  applyPlacement,
  composePlacements,
  determinantOf,
  invertPlacement,
  isFinitePlacement,
  linearOf,
  placementThrough,
  transpose3,
  type Placement,
} from './placement.ts';
import { rotationOf } from './rotation.ts';

export interface Refinement {
  /** Samples of BEFORE that take part. */
  readonly count: number;
  /** Points farther than this from the other surface are left out at first, in mm … */
  readonly from: number;
  /** … and in the end; the reach shrinks from one to the other while enough points stay within it. */
  readonly to: number;
  /** Most iterations; `alignRefineSteps` unless said. */
  readonly steps?: number;
  /** Whether a common scale factor is fitted as well. */
  readonly scale: boolean;
}

/**
 * Draws a placement closer: closest points, least squares of the distances to their tangent planes, again and
 * again within a shrinking reach, so that in the end only what is unchanged has a say. Directions in which the
 * surfaces slide freely on one another (a washer about its axis) are left alone.
 *
 * Sources: Chen & Medioni, Image and Vision Computing 10 (1992) for the distance to planes; Besl & McKay, IEEE
 * PAMI 14 (1992) for the iteration; the weight (1 − d²/reach²)² is Tukey's.
 */
export function refinePlacement(pair: Pair, start: Placement, how: Refinement): Placement {
  const levels: Level[] = [{ placement: start, reach: 0, share: 0 }];
  const hints = new Int32Array(how.count).fill(-1);
  let m = start;
  let reach = Math.max(how.from, how.to);
  let still = 0;
  for (let k = 0; k < (how.steps ?? compareDefaults.alignRefineSteps); k += 1) {
    const step = fitStep(pair, m, hints, reach, how.scale);
    if (step === null || step.share < compareDefaults.alignRefineShare) break;
    const next = composePlacements(step.delta, m);
    if (!isFinitePlacement(next)) break;
    m = next;
    const level = { placement: m, reach, share: step.share };
    if (levels[levels.length - 1].reach === reach) levels[levels.length - 1] = level;
    else levels.push(level);
    if (reach > how.to) {
      if (step.move < 0.2 * reach) reach = Math.max(how.to, reach * (step.move < 0.02 * reach ? 0.1 : 0.4));
    } else {
      still += 1;
      if (step.move < 1e-3 * pair.floor || still > 6) break;
    }
  }
  return wellFounded(levels);
}

/** Where the refinement stood within one reach. */
interface Level {
  readonly placement: Placement;
  readonly reach: number;
  readonly share: number;
}

/**
 * The last level that did not merely thin out its points. Where part of the surface is unchanged, it stays within
 * every reach; where two triangulations differ everywhere, the share falls as fast as the reach, and the smaller
 * levels fit a chance selection.
 */
function wellFounded(levels: readonly Level[]): Placement {
  let last = levels.length - 1;
  while (last > 1) {
    const [wide, narrow] = [levels[last - 1], levels[last]];
    if (narrow.share >= wide.share * (narrow.reach / wide.reach) ** compareDefaults.alignThinning) break;
    last -= 1;
  }
  return levels[last].placement;
}

interface Step {
  readonly delta: Placement;
  /** How far the step moves the shape at most, about. */
  readonly move: number;
  /** Weighted share of the samples within reach. */
  readonly share: number;
}

const fitHit = closestHit();

/** @param hints the face nearest to each sample in the last step, −1 at first; brought up to date */
function fitStep(pair: Pair, m: Placement, hints: Int32Array, reach: number, scale: boolean): Step | null {
  const { before, after } = pair;
  const { points, normals } = before.samples;
  const n = Math.min(hints.length, before.samples.count);
  const normalMap = transpose3(linearOf(invertPlacement(m)));
  const c = applyPlacement(m, before.surface.center);
  const size = 0.5 * after.surface.diagonal;
  const unknowns = scale ? 7 : 6;
  const ata = new Float64Array(unknowns * unknowns);
  const atr = new Float64Array(unknowns);
  const row = new Float64Array(7);
  const reachSq = reach * reach;
  const toNormals = after.surface.faceNormal;
  let weights = 0;
  let used = 0;
  for (let k = 0; k < n; k += 1) {
    const x = points[3 * k];
    const y = points[3 * k + 1];
    const z = points[3 * k + 2];
    const qx = m[0] * x + m[1] * y + m[2] * z + m[3];
    const qy = m[4] * x + m[5] * y + m[6] * z + m[7];
    const qz = m[8] * x + m[9] * y + m[10] * z + m[11];
    closestPoint(after.tree, qx, qy, qz, fitHit, reachSq, hints[k]);
    if (fitHit.face < 0) continue;
    hints[k] = fitHit.face;
    const h = 3 * fitHit.face;
    const nx = toNormals[h];
    const ny = toNormals[h + 1];
    const nz = toNormals[h + 2];
    const sx = normals[3 * k];
    const sy = normals[3 * k + 1];
    const sz = normals[3 * k + 2];
    const ux = normalMap[0] * sx + normalMap[1] * sy + normalMap[2] * sz;
    const uy = normalMap[3] * sx + normalMap[4] * sy + normalMap[5] * sz;
    const uz = normalMap[6] * sx + normalMap[7] * sy + normalMap[8] * sz;
    const along = Math.abs(ux * nx + uy * ny + uz * nz) / Math.hypot(ux, uy, uz);
    if (!(along > compareDefaults.alignNormalCosine)) continue;
    const bump = 1 - fitHit.distanceSq / reachSq;
    const weight = bump * bump;
    const px = (qx - c[0]) / size;
    const py = (qy - c[1]) / size;
    const pz = (qz - c[2]) / size;
    row[0] = py * nz - pz * ny;
    row[1] = pz * nx - px * nz;
    row[2] = px * ny - py * nx;
    row[3] = nx;
    row[4] = ny;
    row[5] = nz;
    row[6] = px * nx + py * ny + pz * nz;
    const residual = (fitHit.x - qx) * nx + (fitHit.y - qy) * ny + (fitHit.z - qz) * nz;
    for (let i = 0; i < unknowns; i += 1) {
      const wi = weight * row[i];
      atr[i] += wi * residual;
      for (let j = 0; j <= i; j += 1) ata[i * unknowns + j] += wi * row[j];
    }
    weights += weight;
    used += 1;
  }
  if (used < compareDefaults.alignRefineLeast) return null;
  for (let i = 0; i < unknowns; i += 1)
    for (let j = 0; j < i; j += 1) ata[j * unknowns + i] = ata[i * unknowns + j];
  const d = solveTruncated(ata, atr, unknowns, compareDefaults.alignFreeDirection);
  const turn: Vec3 = [d[0] / size, d[1] / size, d[2] / size];
  const grow = 1 + (scale ? d[6] / size : 0);
  const linear = rotationOf(turn).map(v => v * grow);
  const delta = placementThrough(linear, c, [c[0] + d[3], c[1] + d[4], c[2] + d[5]]);
  if (!(determinantOf(delta) > 0)) return null;
  return { delta, move: d.reduce((s, v) => s + Math.abs(v), 0), share: weights / n };
}

/** Least squares by eigenvectors, leaving out the directions that the data hardly determine. */
function solveTruncated(ata: Float64Array, atr: Float64Array, n: number, relative: number): Float64Array {
  const { values, vectors } = symmetricEigen(ata, n);
  const x = new Float64Array(n);
  values.forEach((value, k) => {
    if (!(value > relative * values[0]) || value <= 0) return;
    const v = vectors[k];
    let s = 0;
    for (let i = 0; i < n; i += 1) s += v[i] * atr[i];
    for (let i = 0; i < n; i += 1) x[i] += (v[i] * s) / value;
  });
  return x;
}
