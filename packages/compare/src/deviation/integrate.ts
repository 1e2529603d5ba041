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

/** A triangle with the distances of its corners; 12 numbers: x, y, z, d per corner. */
export type Piece = readonly number[];

/**
 * Integrates the distance over a triangle too coarse to be taken whole: halves it at its longest edge until every
 * piece is fine enough. Distances met on the way raise the lower bound of the maximum.
 *
 * @param budget measurements still allowed beyond the coarsest pieces; reduced by those made
 * @returns the greatest distance met
 */
export function integrate(
  to: TriangleTree,
  piece: Piece,
  fineness: Fineness,
  hit: ClosestHit,
  sums: Sums,
  bounds: DistanceBounds,
  budget: { left: number },
): number {
  let greatest = 0;
  const measure = (x: number, y: number, z: number): number => {
    closestPoint(to, x, y, z, hit, Infinity, hit.face);
    const d = Math.sqrt(hit.distanceSq);
    raiseLow(bounds, d, x, y, z);
    if (d > greatest) greatest = d;
    return d;
  };
  const stack: Piece[] = [piece];
  for (let p = stack.pop(); p !== undefined; p = stack.pop()) {
    const area = areaOf(p);
    const d = measure((p[0] + p[4] + p[8]) / 3, (p[1] + p[5] + p[9]) / 3, (p[2] + p[6] + p[10]) / 3);
    const halve = tooCoarse(fineness, area, p[3], p[7], p[11], d);
    if (!halve || (budget.left <= 0 && area <= fineness.coarsest_mm2)) {
      addPiece(sums, area, p[3], p[7], p[11], d);
      continue;
    }
    if (area <= fineness.coarsest_mm2) budget.left -= 3;
    // Turned so that the longest edge runs from a to b.
    const lengths = [0, 4, 8].map(k => squaredLength(p, k, (k + 4) % 12));
    const longest = lengths.indexOf(Math.max(...lengths));
    const a = corner(p, longest);
    const b = corner(p, (longest + 1) % 3);
    const c = corner(p, (longest + 2) % 3);
    const m = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
    m.push(measure(m[0], m[1], m[2]));
    stack.push([...m, ...b, ...c], [...a, ...m, ...c]);
  }
  return greatest;
}

function corner(p: Piece, k: number): Piece {
  return p.slice(4 * k, 4 * k + 4);
}

function squaredLength(p: Piece, i: number, j: number): number {
  return (p[i] - p[j]) ** 2 + (p[i + 1] - p[j + 1]) ** 2 + (p[i + 2] - p[j + 2]) ** 2;
}

function areaOf(p: Piece): number {
  const ux = p[4] - p[0];
  const uy = p[5] - p[1];
  const uz = p[6] - p[2];
  const wx = p[8] - p[0];
  const wy = p[9] - p[1];
  const wz = p[10] - p[2];
  return Math.hypot(uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx) / 2;
}
