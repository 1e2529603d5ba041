import { clearanceAsked, type ClearanceClass } from './clearance-class.ts';
import type { ClearanceRange } from './printed-classes.ts';

/** A size with how far it may be off either way, in millimeters. */
export interface Sized {
  readonly nominal_mm: number;
  readonly plus_mm: number;
  readonly minus_mm: number;
}

/**
 * How a pin stands in a bore, or a screw in its hole.
 *
 * - `interference`: at nominal sizes the pin is no smaller than the bore.
 * - `tighter`, `looser`: outside of what the declared class asks for.
 * - `as-asked`: within it. `unknown`: no class is declared, or its table does not reach the size.
 */
export type ClearanceVerdict = 'interference' | 'tighter' | 'looser' | 'as-asked' | 'unknown';

export interface Clearance {
  readonly verdict: ClearanceVerdict;
  /** On the diameter, at nominal sizes; negative is interference. */
  readonly nominal_mm: number;
  /** At the ends of both tolerances: the narrowest bore on the widest pin, and the other way round. */
  readonly least_mm: number;
  readonly most_mm: number;
  readonly asked: ClearanceRange | null;
}

/** Sizes closer than this are one: what decimal figures leave in double precision. */
const rounding_mm = 1e-9;

/**
 * The clearance on the diameter of a pin in a bore, or on the width of a tongue in a slot: the difference of their sizes
 * (ISO 286-1). Judged at nominal sizes; a fit of ISO 286, whose limits are those of both tolerances together, at the ends.
 *
 * @param pin what goes in
 * @param metric whether it is a metric screw: only then does its size say what `thread` asks for
 */
export function judgeClearance(
  bore: Sized,
  pin: Sized,
  of: ClearanceClass | null,
  metric = false,
): Clearance {
  const nominal = bore.nominal_mm - pin.nominal_mm;
  const least = nominal - bore.minus_mm - pin.plus_mm;
  const most = nominal + bore.plus_mm + pin.minus_mm;
  const asked = of === null || (of === 'thread' && !metric) ? null : clearanceAsked(of, pin.nominal_mm);
  const ends = of?.includes('/') === true ? ([least, most] as const) : ([nominal, nominal] as const);
  return {
    verdict: of === 'thread' && asked === null ? unknownThread(nominal) : verdictOf(nominal, ends, asked),
    nominal_mm: nominal,
    least_mm: least,
    most_mm: most,
    asked,
  };
}

/** Whatever its pitch, a thread takes no hold in a hole that is as wide as it is. */
function unknownThread(nominal: number): ClearanceVerdict {
  return nominal >= -rounding_mm ? 'looser' : 'unknown';
}

function verdictOf(
  nominal: number,
  [least, most]: readonly [number, number],
  asked: ClearanceRange | null,
): ClearanceVerdict {
  // A class may ask for interference, which is then no mistake.
  if (nominal <= rounding_mm && (asked === null || asked.least_mm >= 0)) return 'interference';
  if (asked === null) return 'unknown';
  if (least < asked.least_mm - rounding_mm) return 'tighter';
  return most > asked.most_mm + rounding_mm ? 'looser' : 'as-asked';
}
