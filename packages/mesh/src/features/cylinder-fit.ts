import type { Vec3 } from '../types.ts';
import { algebraicCircle } from './circle-fit.ts';
import { cross, dot, frameOf, unit } from './frame.ts';
import { solveSpd } from './solve.ts';

export interface Cylinder {
  /** Unit vector. */
  readonly axis: Vec3;
  /** A point of the axis: where it passes the plane through the mean of the fitted points. */
  readonly point: Vec3;
  readonly radius: number;
}

export interface CylinderFit extends Cylinder {
  /** Root of the mean squared distance of a point from the cylinder. */
  readonly rms: number;
  /** Largest distance of a point from the cylinder. */
  readonly max: number;
}

/** When to stop: after so many steps, or when a step lowers the sum of squares by less than this share. */
export interface FitEffort {
  readonly rounds: number;
  readonly gain: number;
}

/** To the last digit. */
const thorough: FitEffort = { rounds: 60, gain: 1e-10 };
/** Good enough to decide whether points are near a cylinder at all. */
export const roughly: FitEffort = { rounds: 10, gain: 1e-3 };

/**
 * Geometric fit of a cylinder: minimizes the sum of squared distances of the points to its surface (orthogonal
 * distance regression; NIST Algorithm Testing System, doi 10.6028/jres.103.043). The axis starts at `start`, the
 * circle in the plane across it comes from the algebraic fit, then damped Gauss–Newton steps move all five
 * parameters (axis direction 2, axis place 2, radius).
 *
 * Without `start` many directions over the half sphere are tried and the best end is returned.
 *
 * @param points x, y, z of point 0, of point 1, …; at least 5
 * @returns `null` when there are fewer than 5 points, or they lie on a line or plane
 */
export function fitCylinder(points: ArrayLike<number>, start?: Vec3, effort = thorough): CylinderFit | null {
  if (start !== undefined) return refine(points, start, effort);
  let best: CylinderFit | null = null;
  for (const direction of halfSphere) {
    const fit = refine(points, direction, effort);
    if (fit !== null && (best === null || fit.rms < best.rms)) best = fit;
  }
  return best;
}

/** 60 directions spread evenly over a half sphere (spiral of the golden angle). */
const halfSphere: readonly Vec3[] = Array.from({ length: 60 }, (_, i): Vec3 => {
  const z = (i + 0.5) / 60;
  const angle = i * Math.PI * (3 - Math.sqrt(5));
  const r = Math.sqrt(1 - z * z);
  return [r * Math.cos(angle), r * Math.sin(angle), z];
});

function refine(
  points: ArrayLike<number>,
  start: Vec3,
  { rounds, gain: least }: FitEffort,
): CylinderFit | null {
  const count = Math.floor(points.length / 3);
  const direction = unit(start);
  if (count < 5 || direction === null) return null;
  const mean = meanOf(points, count);
  const first = startAlong(points, count, mean, direction);
  if (first === null) return null;
  let now: Cylinder = first;
  let error = sumOfSquares(points, count, now);
  let damping = 1e-4;
  const normal = new Float64Array(25);
  const step = new Float64Array(5);
  for (let round = 0; round < rounds; round++) {
    const { u, v } = frameOf(now.axis);
    normalEquations(points, count, now, u, v, normal, step);
    // Directions that the points do not fix (a ring in one plane) must not stop the others: damp absolutely as well.
    const floor = 1e-12 * (normal[0] + normal[6] + normal[12] + normal[18] + normal[24]);
    for (let a = 0; a < 5; a++) normal[6 * a] = normal[6 * a] * (1 + damping) + floor;
    const solved = solveSpd(normal, step, 5);
    const tried: Cylinder | null = solved ? stepped(now, u, v, step, mean) : null;
    const triedError = tried === null ? Infinity : sumOfSquares(points, count, tried);
    if (tried !== null && triedError <= error) {
      const gain = error - triedError;
      now = tried;
      error = triedError;
      damping = Math.max(1e-12, damping / 10);
      if (gain <= least * error || error === 0) break;
    } else {
      damping *= 10;
      if (damping > 1e4) break;
    }
  }
  if (!(now.radius > 0) || !Number.isFinite(error)) return null;
  let max = 0;
  for (let i = 0; i < count; i++) max = Math.max(max, Math.abs(missOf(points, i, now)));
  return { ...now, rms: Math.sqrt(error / count), max };
}

function meanOf(points: ArrayLike<number>, count: number): Vec3 {
  let x = 0;
  let y = 0;
  let z = 0;
  for (let i = 0; i < count; i++) {
    x += points[3 * i];
    y += points[3 * i + 1];
    z += points[3 * i + 2];
  }
  return [x / count, y / count, z / count];
}

function startAlong(points: ArrayLike<number>, count: number, mean: Vec3, axis: Vec3): Cylinder | null {
  const { u, v } = frameOf(axis);
  const flat = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const d: Vec3 = [points[3 * i] - mean[0], points[3 * i + 1] - mean[1], points[3 * i + 2] - mean[2]];
    flat[2 * i] = dot(d, u);
    flat[2 * i + 1] = dot(d, v);
  }
  const circle = algebraicCircle(flat, count);
  if (circle === null) return null;
  const { x, y, radius } = circle;
  return {
    axis,
    point: [mean[0] + x * u[0] + y * v[0], mean[1] + x * u[1] + y * v[1], mean[2] + x * u[2] + y * v[2]],
    radius,
  };
}

/** Signed distance of point i from the cylinder's surface. */
function missOf(points: ArrayLike<number>, i: number, c: Cylinder): number {
  const dx = points[3 * i] - c.point[0];
  const dy = points[3 * i + 1] - c.point[1];
  const dz = points[3 * i + 2] - c.point[2];
  const [ax, ay, az] = c.axis;
  const cx = dy * az - dz * ay;
  const cy = dz * ax - dx * az;
  const cz = dx * ay - dy * ax;
  return Math.sqrt(cx * cx + cy * cy + cz * cz) - c.radius;
}

function sumOfSquares(points: ArrayLike<number>, count: number, c: Cylinder): number {
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const miss = missOf(points, i, c);
    sum += miss * miss;
  }
  return sum;
}

/**
 * Parameters: shift of the axis along u and v, tilt of the axis towards u and v, radius. A point at height t above
 * the axis point and in radial direction e sees its distance change by −e·(shift + t·tilt) − change of radius.
 */
function normalEquations(
  points: ArrayLike<number>,
  count: number,
  c: Cylinder,
  u: Vec3,
  v: Vec3,
  normal: Float64Array,
  right: Float64Array,
): void {
  normal.fill(0);
  right.fill(0);
  const row = new Float64Array(5);
  const [px, py, pz] = c.point;
  const [ax, ay, az] = c.axis;
  for (let i = 0; i < count; i++) {
    const dx = points[3 * i] - px;
    const dy = points[3 * i + 1] - py;
    const dz = points[3 * i + 2] - pz;
    const x = dx * u[0] + dy * u[1] + dz * u[2];
    const y = dx * v[0] + dy * v[1] + dz * v[2];
    const t = dx * ax + dy * ay + dz * az;
    const distance = Math.sqrt(x * x + y * y);
    row[0] = distance > 0 ? x / distance : 0;
    row[1] = distance > 0 ? y / distance : 0;
    row[2] = row[0] * t;
    row[3] = row[1] * t;
    row[4] = 1;
    const miss = distance - c.radius;
    for (let a = 0; a < 5; a++) {
      right[a] += row[a] * miss;
      for (let b = 0; b <= a; b++) normal[5 * a + b] += row[a] * row[b];
    }
  }
  for (let a = 0; a < 5; a++) for (let b = 0; b < a; b++) normal[5 * b + a] = normal[5 * a + b];
}

function stepped(c: Cylinder, u: Vec3, v: Vec3, step: Float64Array, mean: Vec3): Cylinder | null {
  const along = (a: number, b: number, k: number) => a * u[k] + b * v[k];
  const axis = unit([
    c.axis[0] + along(step[2], step[3], 0),
    c.axis[1] + along(step[2], step[3], 1),
    c.axis[2] + along(step[2], step[3], 2),
  ]);
  const radius = c.radius + step[4];
  if (axis === null || !(radius > 0)) return null;
  const moved: Vec3 = [
    c.point[0] + along(step[0], step[1], 0),
    c.point[1] + along(step[0], step[1], 1),
    c.point[2] + along(step[0], step[1], 2),
  ];
  const t = dot([mean[0] - moved[0], mean[1] - moved[1], mean[2] - moved[2]], axis);
  return { axis, point: [moved[0] + t * axis[0], moved[1] + t * axis[1], moved[2] + t * axis[2]], radius };
}

/** Distance of a point from the axis of a cylinder. */
export function distanceFromAxis(c: Cylinder, x: number, y: number, z: number): number {
  const across = cross([x - c.point[0], y - c.point[1], z - c.point[2]], c.axis);
  return Math.hypot(across[0], across[1], across[2]);
}
