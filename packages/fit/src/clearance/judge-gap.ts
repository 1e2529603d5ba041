import type { ClearanceClass } from './clearance-class.ts';
import type { ClearanceVerdict } from './judge-clearance.ts';
import { printedClasses, type ClearanceRange } from './printed-classes.ts';

/** Sizes closer than this are one: what decimal figures leave in double precision. */
const rounding_mm = 1e-9;

/**
 * How two parallel faces stand that face each other. Without a class they are to touch, as far as their tolerances let
 * them; a printed class asks for the gap of one side, which is half of what it asks for on a diameter. All other classes
 * are of round things.
 *
 * @param gap_mm negative where the two overlap
 * @param bears_mm how far both together may be off
 */
export function judgeGap(
  gap_mm: number,
  bears_mm: number,
  of: ClearanceClass | null,
): { readonly verdict: ClearanceVerdict; readonly asked: ClearanceRange | null } {
  const asked = gapAsked(bears_mm, of);
  if (asked === null)
    return { verdict: gap_mm < -bears_mm - rounding_mm ? 'interference' : 'unknown', asked };
  if (gap_mm < -bears_mm - rounding_mm) return { verdict: 'interference', asked };
  if (gap_mm < asked.least_mm - rounding_mm) return { verdict: 'tighter', asked };
  return { verdict: gap_mm > asked.most_mm + rounding_mm ? 'looser' : 'as-asked', asked };
}

function gapAsked(bears_mm: number, of: ClearanceClass | null): ClearanceRange | null {
  if (of === null)
    return { least_mm: -bears_mm, most_mm: bears_mm, source: 'they touch, within the tolerances of both' };
  if (of !== 'press' && of !== 'snug' && of !== 'sliding') return null;
  const { least_mm, most_mm, source } = printedClasses[of];
  return { least_mm: least_mm / 2, most_mm: most_mm / 2, source };
}
