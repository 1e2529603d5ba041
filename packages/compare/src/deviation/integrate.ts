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
   * Between the two, a piece of area A is halved while A · |mean of the corners − middle| exceeds this times √A: then
   * errors of random sign stay within a share of the whole.
   */
  readonly error_mm2: number;
}

/**
 * The rule of degree 2 on a triangle: 1/12 for each corner, 3/4 for the middle (exact for linear distances and their
 * squares; e.g. Abramowitz and Stegun 1964, 25.4.62, and from memory).
 */
const middleShare = 3 / 4;
const cornerShare = 1 / 12;

/** Adds a triangle with known distances at the corners and the middle. */
export function addPiece(sums: Sums, area: number, d0: number, d1: number, d2: number, middle: number): void {
  const corner = area * cornerShare;
  const inner = area * middleShare;
  sums.area += area;
  sums.distance += corner * (d0 + d1 + d2) + inner * middle;
  sums.distanceSq += corner * (d0 * d0 + d1 * d1 + d2 * d2) + inner * middle * middle;
  deposit(sums.distribution, d0, corner);
  deposit(sums.distribution, d1, corner);
  deposit(sums.distribution, d2, corner);
  deposit(sums.distribution, middle, inner);
}

/** Whether a piece must be halved for the fineness asked for. */
export function tooCoarse(
  fineness: Fineness,
  area: number,
  d0: number,
  d1: number,
  d2: number,
  middle: number,
): boolean {
  if (area > fineness.coarsest_mm2) return true;
  if (area <= fineness.finest_mm2) return false;
  const bend = Math.abs((d0 + d1 + d2) / 3 - middle);
  return area * bend > fineness.error_mm2 * Math.sqrt(area);
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
  const stack = new Float64Array(numbers * (mostHalvings + 2));

  function measure(x: number, y: number, z: number, hit: ClosestHit): number {
    closestPoint(to, x, y, z, hit, Infinity, hit.face);
    const d = Math.sqrt(hit.distanceSq);
    raiseLow(bounds, d, x, y, z);
    return d;
  }

  return (triangle, hit) => {
    let greatest = 0;
    stack.set(triangle, 0);
    let top = 1;
    while (top > 0) {
      const p = numbers * --top;
      const area = pieceArea(stack, p);
      const d = measure(
        (stack[p] + stack[p + 4] + stack[p + 8]) / 3,
        (stack[p + 1] + stack[p + 5] + stack[p + 9]) / 3,
        (stack[p + 2] + stack[p + 6] + stack[p + 10]) / 3,
        hit,
      );
      greatest = Math.max(greatest, d);
      const due = area > fineness.coarsest_mm2;
      const wanted = tooCoarse(fineness, area, stack[p + 3], stack[p + 7], stack[p + 11], d);
      if (!wanted || (!due && budget.left <= 0) || top >= mostHalvings) {
        addPiece(sums, area, stack[p + 3], stack[p + 7], stack[p + 11], d);
        continue;
      }
      if (!due) budget.left -= 3;
      // The longest edge runs from corner i to corner j; the halves lie in the place of the piece and the next one.
      const i = p + 4 * longestEdge(stack, p);
      const j = i === p + 8 ? p : i + 4;
      const next = p + numbers;
      stack.copyWithin(next, p, p + numbers);
      const mx = (stack[i] + stack[j]) / 2;
      const my = (stack[i + 1] + stack[j + 1]) / 2;
      const mz = (stack[i + 2] + stack[j + 2]) / 2;
      const middle = measure(mx, my, mz, hit);
      greatest = Math.max(greatest, middle);
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
