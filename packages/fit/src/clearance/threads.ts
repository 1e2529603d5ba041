import type { ClearanceRange } from './printed-classes.ts';

/**
 * Pitch of metric coarse threads by nominal diameter, in millimeters: ISO 261. Read in public tables, not in the standard.
 */
const coarsePitch: ReadonlyMap<number, number> = new Map([
  [2, 0.4],
  [2.5, 0.45],
  [3, 0.5],
  [4, 0.7],
  [5, 0.8],
  [6, 1],
  [8, 1.25],
]);

/** Basic diameters of a metric coarse thread, in millimeters. */
export interface ThreadDiameters {
  readonly pitch_mm: number;
  /** D1 = d − 1.082532 P: of a nut's thread (ISO 724:1993). */
  readonly minor_mm: number;
  /** D2 = d − 0.649519 P: where tooth and gap are equally wide (ISO 724:1993). */
  readonly flank_mm: number;
  /** d3 = d − 1.226869 P: the core of the screw (DIN 13-1, from memory). */
  readonly core_mm: number;
}

/** null for a thread that is in no table at hand. */
export function threadDiameters(nominal_mm: number): ThreadDiameters | null {
  const pitch = coarsePitch.get(nominal_mm);
  return pitch === undefined
    ? null
    : {
        pitch_mm: pitch,
        minor_mm: nominal_mm - 1.082532 * pitch,
        flank_mm: nominal_mm - 0.649519 * pitch,
        core_mm: nominal_mm - 1.226869 * pitch,
      };
}

/**
 * What a hole must be for a screw to cut or form its thread in it: no wider than D2, where 60 % of the thread's height take
 * hold, and no narrower than the screw's core, which does not go in. That a thread of less than 60 % is too little, is
 * common practice, no source. null where the thread is in no table at hand.
 */
export function threadClearance(nominal_mm: number): ClearanceRange | null {
  const found = threadDiameters(nominal_mm);
  return found === null
    ? null
    : {
        least_mm: found.core_mm - nominal_mm,
        most_mm: found.flank_mm - nominal_mm,
        source: `ISO 261 and ISO 724 for M${nominal_mm}: a hole of ${found.core_mm.toFixed(2)} to ${found.flank_mm.toFixed(2)} mm`,
      };
}

/**
 * The share of a thread's height that takes hold in a hole: (d − hole) / (d − D1), 1 in a hole of the minor diameter, 0 where
 * the hole is as wide as the thread or wider. null where the thread is in no table at hand.
 */
export function threadEngagement(nominal_mm: number, hole_mm: number): number | null {
  const found = threadDiameters(nominal_mm);
  if (found === null) return null;
  return Math.min(1, Math.max(0, (nominal_mm - hole_mm) / (nominal_mm - found.minor_mm)));
}
