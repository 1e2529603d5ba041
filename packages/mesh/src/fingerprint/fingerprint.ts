import { bounds, center } from '../mass/bounds.ts';
import { faceSums } from '../mass/face-sums.ts';
import { massOfSums } from '../mass/mass-properties.ts';
import { symmetricEigen } from '../mass/symmetric-eigen.ts';
import { pairEdges } from '../topology/edge-pairs.ts';
import type { Mat3, Mesh, Vec3 } from '../types.ts';
import { surfaceShape } from './surface-shape.ts';
import { surfaceSums } from './surface-sums.ts';

/** Changes whenever the numbers of a mesh would. */
export const fingerprintVersion = 1;
/** Numbers of the surface, which every mesh has; then those of the solid. */
export const surfaceValues = 30;
export const solidValues = 5;
export const fingerprintValues = surfaceValues + solidValues;

/** A mesh in a few numbers, to find shapes like it among many. Proves nothing: a comparison must follow. */
export interface Fingerprint {
  /**
   * `fingerprintValues` numbers, weighted so that the plain Euclidean distance tells how unlike two shapes are. The
   * last `solidValues` are 0 when `solid` is false.
   */
  readonly values: Float32Array;
  /** Whether the mesh has a volume. Numbers of the solid are compared only between two that have. */
  readonly solid: boolean;
  /** Not part of the likeness: the scale of one copy from another is the ratio of these. */
  readonly size_mm: number;
}

export interface FingerprintOptions {
  /** Whether the oriented faces form a closed cycle, when it is known. */
  readonly closed?: boolean;
}

/**
 * The fingerprint of a mesh; null when it has no area.
 *
 * The same for a moved, turned, mirrored, uniformly scaled or inside-out copy and for any order of its faces, up to
 * rounding (distance below 1e-4 in the tests); nearly the same for another triangulation of the same surface (below
 * 2e-3; worse where a hundred thousand needles are as long as the part). Local rework changes it little. Only additions,
 * multiplications, divisions and square roots, which IEEE 754 defines to the bit, in an order that the mesh decides.
 */
export function fingerprint(mesh: Mesh, options: FingerprintOptions = {}): Fingerprint | null {
  const box = bounds(mesh);
  if (box === null) return null;
  const about = center(box);
  const sums = surfaceSums(mesh, about);
  if (sums === null) return null;
  const spread = roots(sums.covariance);
  const rms = Math.sqrt(spread[0] ** 2 + spread[1] ** 2 + spread[2] ** 2);
  if (!(rms > 0)) return null;
  const shape = surfaceShape(mesh, sums, rms);
  const unit = Math.sqrt(sums.area);
  const normals = symmetricEigen(sums.normals).values;
  const solid = solidTerms(mesh, about, sums.area, sums.centroid, options.closed);
  const values = Float32Array.from([
    ...weighted(
      spread.map(value => value / unit),
      weights.spread,
    ),
    ...weighted([normals[0], normals[2]], weights.normals),
    ...weighted(shape.distances, weights.distances),
    ...weighted(shape.planes, weights.planes),
    ...weighted(shape.harmonics, weights.harmonics),
    ...(solid ?? new Array<number>(solidValues).fill(0)),
  ]);
  return values.every(Number.isFinite) ? { values, solid: solid !== null, size_mm: rms } : null;
}

/**
 * What each group of numbers counts for. Not tuned: all alike, but for the volume, whose share of area to the power of
 * 3/2 is below 0.1 for every shape; common practice, no source.
 */
const weights = {
  spread: 1,
  normals: 1,
  distances: 1,
  planes: 1,
  harmonics: 1,
  solid: 1,
  volume: 6,
} as const;

function weighted(values: readonly number[], weight: number): number[] {
  return values.map(value => weight * value);
}

/** Volume, spread along the principal axes, and how far the middles of solid and surface lie apart. */
function solidTerms(
  mesh: Mesh,
  about: Vec3,
  area: number,
  middle: Vec3,
  closed: boolean | undefined,
): number[] | null {
  if (!(closed ?? pairEdges(mesh).closedCycle)) return null;
  const { volume, centroid, inertia } = massOfSums(faceSums(mesh, about));
  if (centroid === null || inertia === null) return null;
  const size = Math.abs(volume);
  const unit = Math.sqrt(area);
  // Inertia to covariance: ∫ r rᵀ = ½ trace · 1 − inertia.
  const half = (inertia[0][0] + inertia[1][1] + inertia[2][2]) / 2;
  const moments = symmetricEigen(inertia).values;
  const spread = moments.map(moment => Math.sqrt(Math.max(0, (half - moment) / size)) / unit);
  const [x, y, z] = [centroid[0] - middle[0], centroid[1] - middle[1], centroid[2] - middle[2]];
  const apart = Math.sqrt(x * x + y * y + z * z) / unit;
  return weighted([weights.volume * (size / (area * unit)), ...spread, apart], weights.solid);
}

function roots(matrix: Mat3): Vec3 {
  const [a, b, c] = symmetricEigen(matrix).values;
  return [Math.sqrt(Math.max(0, a)), Math.sqrt(Math.max(0, b)), Math.sqrt(Math.max(0, c))];
}
