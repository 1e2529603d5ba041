import { closestPoint, type ClosestHit, type TriangleTree } from '@kinprint/mesh';
import { raiseLow, type DistanceBounds } from './bounds.ts';
import { deposit, type Distribution } from './distribution.ts';

/** Sums over a surface: ∫ d, ∫ d², and how much area lies at which distance. */
export interface Sums {
  area: number;
  distance: number;
  distanceSq: number;
  readonly distribution: Distribution;
}

/** How finely a surface is sampled. */
export interface Fineness {
  /** Larger pieces are always halved. */
  readonly coarsest_mm2: number;
  /** Smaller ones never. */
  readonly finest_mm2: number;
  /**
   * Between the two, a piece of area A is halved while A · |distance − interpolation| at its middle exceeds this times
   * √A: then errors of random sign stay within a share of the whole.
   */
  readonly error_mm2: number;
}

/**
 * A place in a triangle, evenly spread over its area for n = 0, 1, 2, …: shares of corners 0, 1, 2 go to `out` (the R2
 * sequence, folded; M. Roberts 2018, "The unreasonable effectiveness of quasirandom sequences", web article).
 */
export function spreadPlace(n: number, out: Float64Array): void {
  let u = (0.5 + (n + 1) * 0.7548776662466927) % 1;
  let v = (0.5 + (n + 1) * 0.5698402909980532) % 1;
  if (u + v > 1) {
    u = 1 - u;
    v = 1 - v;
  }
  out[0] = 1 - u - v;
  out[1] = u;
  out[2] = v;
}

/**
 * The area that a measurement inside the face in `slot` stands for: its own when it is larger than `finest`, else
 * `finest` or nothing, with a chance in proportion to the area. The choice is evenly spread over the slots (golden
 * ratio sequence) and the same however these are divided among threads.
 */
export function sampleWeight(slot: number, area: number, finest: number): number {
  if (area >= finest) return area;
  return ((slot + 1) * 0.6180339887498949) % 1 < area / finest ? finest : 0;
}

/**
 * Adds a triangle with distances d0, d1, d2 at the corners and d at a spread place where linear interpolation between
 * the corners gives `linear`. `weight` is the area that this place stands for.
 *
 * The integral of the interpolation is exact, and the difference at a random place, times the area, stands for the
 * integral of what the interpolation lacks (a control variate). So distances that are linear are integrated exactly,
 * and any other ones without bias, which a fixed rule does not do: corners of a tessellation lie on the designed
 * surface, the points between them beside it.
 */
export function addPiece(
  sums: Sums,
  area: number,
  weight: number,
  d0: number,
  d1: number,
  d2: number,
  d: number,
  linear: number,
): void {
  addUnsampled(sums, area, d0, d1, d2);
  sums.distance += weight * (d - linear);
  sums.distanceSq += weight * (d * d - linear * linear);
  deposit(sums.distribution, d, weight);
}

/** Adds a triangle of which the interpolation alone is taken, while others stand for what that lacks. */
export function addUnsampled(sums: Sums, area: number, d0: number, d1: number, d2: number): void {
  sums.area += area;
  sums.distance += (area * (d0 + d1 + d2)) / 3;
  sums.distanceSq += (area * (d0 * d0 + d1 * d1 + d2 * d2 + d0 * d1 + d1 * d2 + d2 * d0)) / 6;
}

/** A triangle with the distances of its corners: x, y, z, d for each. */
const numbers = 12;
/** Halving goes as deep as an area can be halved before `coarsest` or `finest` is reached. */
const mostHalvings = 200;

/**
 * Returns a function that integrates the distance from `to` over a triangle too coarse to be taken whole: it halves it
 * at its longest edge until every piece is fine enough. Distances met on the way raise the lower bound of the maximum;
 * the greatest is returned. `triangle` holds 12 numbers: x, y, z and the distance of each corner; `budget` counts the
 * measurements still allowed beyond the coarsest pieces.
 */
export function createIntegrator(
  to: TriangleTree,
  fineness: Fineness,
  sums: Sums,
  bounds: DistanceBounds,
  budget: { left: number },
): (triangle: Float64Array, hit: ClosestHit) => number {
  const place = new Float64Array(3);
  let measured = 0;
  let greatest = 0;
  const stack = new Float64Array(numbers * (mostHalvings + 2));

  function measure(x: number, y: number, z: number, hit: ClosestHit): number {
    closestPoint(to, x, y, z, hit, Infinity, hit.face);
    const d = Math.sqrt(hit.distanceSq);
    raiseLow(bounds, d, x, y, z);
    if (d > greatest) greatest = d;
    return d;
  }

  /** Distance at a place of the piece at `p`, given by the shares of its corners. */
  function measureAt(p: number, r: number, s: number, t: number, hit: ClosestHit): number {
    return measure(
      r * stack[p] + s * stack[p + 4] + t * stack[p + 8],
      r * stack[p + 1] + s * stack[p + 5] + t * stack[p + 9],
      r * stack[p + 2] + s * stack[p + 6] + t * stack[p + 10],
      hit,
    );
  }

  return (triangle, hit) => {
    greatest = 0;
    stack.set(triangle, 0);
    let top = 1;
    while (top > 0) {
      const p = numbers * --top;
      const area = pieceArea(stack, p);
      const d0 = stack[p + 3];
      const d1 = stack[p + 7];
      const d2 = stack[p + 11];
      let halve = area > fineness.coarsest_mm2;
      if (!halve && area > fineness.finest_mm2 && budget.left > 0) {
        // Judged at the middle, which the estimate does not use: leaving off where a random place happens to agree
        // with the interpolation would bend the estimate toward it.
        const bend = measureAt(p, 1 / 3, 1 / 3, 1 / 3, hit) - (d0 + d1 + d2) / 3;
        budget.left--;
        halve = area * Math.abs(bend) > fineness.error_mm2 * Math.sqrt(area);
      }
      if (!halve || top >= mostHalvings) {
        spreadPlace(measured++, place);
        const [r, s, t] = place;
        addPiece(sums, area, area, d0, d1, d2, measureAt(p, r, s, t, hit), r * d0 + s * d1 + t * d2);
        continue;
      }
      // The longest edge runs from corner i to corner j; the halves lie in the place of the piece and the next one.
      const i = p + 4 * longestEdge(stack, p);
      const j = i === p + 8 ? p : i + 4;
      const next = p + numbers;
      stack.copyWithin(next, p, p + numbers);
      const mx = (stack[i] + stack[j]) / 2;
      const my = (stack[i + 1] + stack[j + 1]) / 2;
      const mz = (stack[i + 2] + stack[j + 2]) / 2;
      const middle = measure(mx, my, mz, hit);
      setCorner(stack, j, mx, my, mz, middle);
      setCorner(stack, i + numbers, mx, my, mz, middle);
      top += 2;
    }
    return greatest;
  };
}

function setCorner(stack: Float64Array, at: number, x: number, y: number, z: number, d: number): void {
  stack[at] = x;
  stack[at + 1] = y;
  stack[at + 2] = z;
  stack[at + 3] = d;
}

function longestEdge(stack: Float64Array, p: number): number {
  const first = lengthSq(stack, p, p + 4);
  const second = lengthSq(stack, p + 4, p + 8);
  const third = lengthSq(stack, p + 8, p);
  if (first >= second && first >= third) return 0;
  return second >= third ? 1 : 2;
}

function lengthSq(stack: Float64Array, i: number, j: number): number {
  return (stack[i] - stack[j]) ** 2 + (stack[i + 1] - stack[j + 1]) ** 2 + (stack[i + 2] - stack[j + 2]) ** 2;
}

function pieceArea(stack: Float64Array, p: number): number {
  const ux = stack[p + 4] - stack[p];
  const uy = stack[p + 5] - stack[p + 1];
  const uz = stack[p + 6] - stack[p + 2];
  const wx = stack[p + 8] - stack[p];
  const wy = stack[p + 9] - stack[p + 1];
  const wz = stack[p + 10] - stack[p + 2];
  return Math.sqrt((uy * wz - uz * wy) ** 2 + (uz * wx - ux * wz) ** 2 + (ux * wy - uy * wx) ** 2) / 2;
}
