import { solveSpd } from './solve.ts';

export interface CircleFit {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** Root of the mean squared distance of a point from the circle. */
  readonly rms: number;
}

/**
 * Linear least squares for x² + y² + D x + E y + F = 0 about the points' mean: fast, exact for exact data, biased to
 * small radii on short noisy arcs (IEEE Trans. Instrum. Meas. 25:8–14, 1976). `null` for fewer than three points
 * or points on a line.
 *
 * @param points x, y of point 0, of point 1, …
 */
export function algebraicCircle(points: ArrayLike<number>, count = points.length >> 1): CircleFit | null {
  if (count < 3) return null;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < count; i++) {
    mx += points[2 * i];
    my += points[2 * i + 1];
  }
  mx /= count;
  my /= count;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xz = 0;
  let yz = 0;
  for (let i = 0; i < count; i++) {
    const x = points[2 * i] - mx;
    const y = points[2 * i + 1] - my;
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
  }
  const det = xx * yy - xy * xy;
  if (!(det > 1e-14 * (xx + yy) * (xx + yy))) return null;
  const cx = (yy * xz - xy * yz) / (2 * det);
  const cy = (xx * yz - xy * xz) / (2 * det);
  const radius = Math.sqrt(cx * cx + cy * cy + (xx + yy) / count);
  if (!Number.isFinite(radius)) return null;
  const x = cx + mx;
  const y = cy + my;
  return { x, y, radius, rms: circleRms(points, count, x, y, radius) };
}

/**
 * Geometric fit: minimizes the sum of squared distances to the circle (orthogonal distance regression, as NIST's
 * Algorithm Testing System defines it, doi 10.6028/jres.103.043). Damped Gauss–Newton from the algebraic fit.
 * `null` for fewer than three points or points on a line.
 *
 * @param points x, y of point 0, of point 1, …
 */
export function fitCircle(points: ArrayLike<number>): CircleFit | null {
  const count = points.length >> 1;
  const start = algebraicCircle(points, count);
  if (start === null) return null;
  let { x, y, radius } = start;
  let error = start.rms;
  let damping = 1e-6;
  for (let round = 0; round < 200; round++) {
    const normal = new Float64Array(9);
    const right = new Float64Array(3);
    for (let i = 0; i < count; i++) {
      const dx = points[2 * i] - x;
      const dy = points[2 * i + 1] - y;
      const distance = Math.hypot(dx, dy);
      const row = distance > 0 ? [dx / distance, dy / distance, 1] : [0, 0, 1];
      const miss = distance - radius;
      for (let a = 0; a < 3; a++) {
        right[a] += row[a] * miss;
        for (let b = 0; b < 3; b++) normal[3 * a + b] += row[a] * row[b];
      }
    }
    for (let a = 0; a < 3; a++) normal[4 * a] *= 1 + damping;
    if (!solveSpd(normal, right, 3)) break;
    const tried = circleRms(points, count, x + right[0], y + right[1], radius + right[2]);
    if (tried <= error) {
      x += right[0];
      y += right[1];
      radius += right[2];
      error = tried;
      damping = Math.max(1e-12, damping / 10);
      if (Math.hypot(right[0], right[1], right[2]) <= 1e-14 * radius) break;
    } else {
      damping *= 10;
      if (damping > 1e6) break;
    }
  }
  return radius > 0 ? { x, y, radius, rms: error } : null;
}

function circleRms(points: ArrayLike<number>, count: number, x: number, y: number, radius: number): number {
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const miss = Math.hypot(points[2 * i] - x, points[2 * i + 1] - y) - radius;
    sum += miss * miss;
  }
  return Math.sqrt(sum / count);
}
