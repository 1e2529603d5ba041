import type { Sized } from '../clearance/judge-clearance.ts';

/** Rounding of decimal figures. */
const slack_mm = 1e-9;

export type LimitChange = 'same' | 'narrower' | 'wider';

/**
 * How the limits of a size changed. Narrower ones lie within the old ones, so that every new part meets the old
 * specification; all others are wider, also those that only moved.
 */
export function limitChange(before: Sized, after: Sized): LimitChange {
  const old = limits(before);
  const now = limits(after);
  const low = now[0] - old[0];
  const high = old[1] - now[1];
  if (Math.abs(low) <= slack_mm && Math.abs(high) <= slack_mm) return 'same';
  return low >= -slack_mm && high >= -slack_mm ? 'narrower' : 'wider';
}

function limits({ nominal_mm, plus_mm, minus_mm }: Sized): readonly [number, number] {
  return [nominal_mm - minus_mm, nominal_mm + plus_mm];
}
