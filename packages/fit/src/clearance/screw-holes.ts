import type { ClearanceRange } from './printed-classes.ts';

/** Series of clearance holes for screws. */
export type HoleSeries = 'fine' | 'medium' | 'coarse';

/**
 * Diameters of clearance holes in millimeters by the thread's nominal diameter: ISO 273:1979. Read in public tables, not
 * in the standard.
 */
const holes: ReadonlyMap<number, Readonly<Record<HoleSeries, number>>> = new Map([
  [2, { fine: 2.2, medium: 2.4, coarse: 2.6 }],
  [2.5, { fine: 2.7, medium: 2.9, coarse: 3.1 }],
  [3, { fine: 3.2, medium: 3.4, coarse: 3.6 }],
  [4, { fine: 4.3, medium: 4.5, coarse: 4.8 }],
  [5, { fine: 5.3, medium: 5.5, coarse: 5.8 }],
  [6, { fine: 6.4, medium: 6.6, coarse: 7 }],
  [8, { fine: 8.4, medium: 9, coarse: 10 }],
]);

/** The clearance hole for a metric thread, in millimeters; null where the table has no such thread. */
export function clearanceHole(thread_mm: number, series: HoleSeries): number | null {
  return holes.get(thread_mm)?.[series] ?? null;
}

const order: readonly HoleSeries[] = ['fine', 'medium', 'coarse'];

/**
 * The clearance of a hole that still counts as one of the series: half way to its neighbors, and between the thread and
 * the hole of the series `fine`; `coarse` ends as far beyond as it begins before. null where the table has no such thread.
 */
export function seriesClearance(thread_mm: number, series: HoleSeries): ClearanceRange | null {
  const row = holes.get(thread_mm);
  if (row === undefined) return null;
  const k = order.indexOf(series);
  const own = row[series];
  const below = k === 0 ? thread_mm : row[order[k - 1]];
  const least = (own + below) / 2;
  const most = k === 2 ? own + (own - least) : (own + row[order[k + 1]]) / 2;
  return {
    least_mm: least - thread_mm,
    most_mm: most - thread_mm,
    source: `ISO 273:1979, ${series}: ${own} mm for M${thread_mm}`,
  };
}

/** The nominal diameter that a size like `M3 × 16`, `M2.5x8` or `M4` begins with; null for anything else. */
export function threadDiameter(size: string): number | null {
  const found = /^\s*M(\d{1,3}(?:\.\d{1,2})?)(?![\d.])/.exec(size);
  const diameter = found === null ? 0 : Number(found[1]);
  return diameter > 0 ? diameter : null;
}

/**
 * The length that a size like `M3 × 16` or `M8 × 1 × 20` ends with, in millimeters; null where it names none. What is
 * less than the diameter and stands alone is a pitch (`M8 × 1`, ISO 965-1).
 */
export function screwLength(size: string): number | null {
  const found =
    /^\s*M(\d{1,3}(?:\.\d{1,2})?)\s*[×x]\s*(\d{1,4}(?:\.\d{1,3})?)(?:\s*[×x]\s*(\d{1,4}(?:\.\d{1,3})?))?(?![\d.])/.exec(
      size,
    );
  if (found === null) return null;
  // A group that is not there is undefined, whatever its type says.
  const [diameter, second, third] = found.slice(1).map(text => Number((text as string | undefined) ?? NaN));
  if (third > 0) return third;
  return second > 0 && second >= diameter ? second : null;
}
