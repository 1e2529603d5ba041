import { dot, frameOf } from './frame.ts';
import type { Cylinder } from './cylinder-fit.ts';
import { solveSpd } from './solve.ts';

/**
 * How much of the misfit to a cylinder has a shape: the share (0…1) of its variance that a cone (misfit ∝ height),
 * a barrel or saddle (∝ height²), a bent axis (∝ height² times the direction) or an oval section (∝ cos 2φ, sin 2φ)
 * explains. Near 0 for noise about a true cylinder, near 1 for another surface that a short cylinder resembles.
 *
 * @param points x, y, z of point 0, of point 1, …
 */
export function systematicShare(points: ArrayLike<number>, cylinder: Cylinder): number {
  const { axis, point, radius } = cylinder;
  const { u, v } = frameOf(axis);
  const count = Math.floor(points.length / 3);
  const terms = 8;
  if (count < 3 * terms) return 0;
  const heights = new Float64Array(count);
  let scale = 0;
  let middle = 0;
  for (let i = 0; i < count; i++) {
    heights[i] =
      (points[3 * i] - point[0]) * axis[0] +
      (points[3 * i + 1] - point[1]) * axis[1] +
      (points[3 * i + 2] - point[2]) * axis[2];
    middle += heights[i] / count;
  }
  for (const h of heights) scale = Math.max(scale, Math.abs(h - middle));
  if (!(scale > 0)) return 0;
  const normal = new Float64Array(terms * terms);
  const right = new Float64Array(terms);
  let squares = 0;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const d = [points[3 * i] - point[0], points[3 * i + 1] - point[1], points[3 * i + 2] - point[2]] as const;
    const x = dot(d, u);
    const y = dot(d, v);
    const rho = Math.sqrt(x * x + y * y);
    const c = rho > 0 ? x / rho : 1;
    const s = rho > 0 ? y / rho : 0;
    const h = (heights[i] - middle) / scale;
    const miss = rho - radius;
    const row = [1, h, h * h, h * h * c, h * h * s, c * c - s * s, 2 * c * s, h * h * h];
    for (let a = 0; a < terms; a++) {
      right[a] += row[a] * miss;
      for (let b = 0; b < terms; b++) normal[a * terms + b] += row[a] * row[b];
    }
    squares += miss * miss;
    sum += miss;
  }
  const variance = squares - (sum * sum) / count;
  if (!(variance > 0)) return 0;
  const wanted = right.slice();
  for (let a = 0; a < terms; a++) normal[a * (terms + 1)] += 1e-9 * count;
  if (!solveSpd(normal, right, terms)) return 0;
  let explained = -(sum * sum) / count;
  for (let a = 0; a < terms; a++) explained += right[a] * wanted[a];
  return Math.min(1, Math.max(0, explained / variance));
}
