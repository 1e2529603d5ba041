import type { ClearanceRange } from './printed-classes.ts';

/** Tolerance classes of holes and shafts in the table. */
export type HoleClass = 'H7' | 'H8' | 'H11';
export type ShaftClass = 'f7' | 'g6' | 'h6' | 'h7' | 'p6';
export type IsoFit = `${HoleClass}/${ShaftClass}`;

interface Row {
  /** Nominal sizes over … up to and including …, in millimeters. */
  readonly over: number;
  readonly upTo: number;
  /** Lower and upper limit deviation in micrometers. */
  readonly limits: Readonly<Record<HoleClass | ShaftClass, readonly [number, number]>>;
}

/** ISO 286-2:2010, tables of limit deviations; nominal sizes up to 30 mm. Read in public tables, not in the standard. */
const rows: readonly Row[] = [
  row(0, 3, [0, 10], [0, 14], [0, 60], [-16, -6], [-8, -2], [-6, 0], [-10, 0], [6, 12]),
  row(3, 6, [0, 12], [0, 18], [0, 75], [-22, -10], [-12, -4], [-8, 0], [-12, 0], [12, 20]),
  row(6, 10, [0, 15], [0, 22], [0, 90], [-28, -13], [-14, -5], [-9, 0], [-15, 0], [15, 24]),
  row(10, 18, [0, 18], [0, 27], [0, 110], [-34, -16], [-17, -6], [-11, 0], [-18, 0], [18, 29]),
  row(18, 30, [0, 21], [0, 33], [0, 130], [-41, -20], [-20, -7], [-13, 0], [-21, 0], [22, 35]),
];

type Limits = readonly [number, number];

function row(
  over: number,
  upTo: number,
  H7: Limits,
  H8: Limits,
  H11: Limits,
  f7: Limits,
  g6: Limits,
  h6: Limits,
  h7: Limits,
  p6: Limits,
): Row {
  return { over, upTo, limits: { H7, H8, H11, f7, g6, h6, h7, p6 } };
}

/** Limit deviations of a class at a nominal size, in millimeters; null beyond the table. */
export function limitDeviations(
  nominal_mm: number,
  of: HoleClass | ShaftClass,
): { readonly lower_mm: number; readonly upper_mm: number } | null {
  const found = rows.find(({ over, upTo }) => nominal_mm > over && nominal_mm <= upTo);
  if (found === undefined) return null;
  const [lower, upper] = found.limits[of];
  return { lower_mm: lower / 1000, upper_mm: upper / 1000 };
}

/** Smallest and largest clearance of a fit by its definition (ISO 286-1); null beyond the table. */
export function isoClearance(nominal_mm: number, fit: IsoFit): ClearanceRange | null {
  const [holeClass, shaftClass] = fit.split('/') as [HoleClass, ShaftClass];
  const hole = limitDeviations(nominal_mm, holeClass);
  const shaft = limitDeviations(nominal_mm, shaftClass);
  if (hole === null || shaft === null) return null;
  return {
    least_mm: hole.lower_mm - shaft.upper_mm,
    most_mm: hole.upper_mm - shaft.lower_mm,
    source: 'ISO 286-2:2010',
  };
}
