import { compareDefaults } from '../defaults.ts';
import type { Chosen } from './closest-motion.ts';
import { placementParts } from './describe.ts';
import { matchedShares, type Matched } from './matched.ts';
import { motionCost } from './motion-cost.ts';
import type { Pair } from './pair.ts';
import type { Placement } from './placement.ts';
import { evidenceUnder } from './search.ts';
import { plainShifts } from './translations.ts';

/**
 * Standing still, or else a plain shift, where no other placement fits clearly better: brings at least
 * `alignEqualShare` more of both surfaces within the tolerance, or all of them. Of two explanations that fit alike the
 * plainer one holds, and a search by samples may overlook it: where a bore was moved in a plate, the bore weighs more in
 * it than the sides, and a nearly square plate is as good turned by 90°. A doubtful scale gives way to any that makes the
 * shapes kin.
 *
 * @param chosen what the search found; null for nothing
 */
export function plainlyPlaced(pair: Pair, chosen: Chosen | null): Chosen | null {
  if (chosen?.matched.exact === true) return chosen;
  const { center } = pair.before.surface;
  const least =
    chosen === null || doubtful(chosen)
      ? 0
      : sharedArea(pair, chosen.matched) - compareDefaults.alignEqualShare;
  const shifts = plainShifts(pair.before.surface, pair.after.surface)
    .map(({ placement }) => ({ placement, shift: motionCost(placement, center).shift }))
    .sort((p, q) => p.shift - q.shift)
    .filter(({ placement }, k, all) => k === 0 || !sameShift(placement, all[k - 1].placement, pair.tolerance))
    .map(({ placement }, k) => ({ placement, still: k === 0, evidence: evidenceUnder(pair, placement) }))
    // By samples at first; those are good to some hundredths.
    .filter(({ evidence, still }) => evidence.kin && (still || evidence.share >= least - sampleError))
    .sort((p, q) => Number(q.still) - Number(p.still) || q.evidence.share - p.evidence.share)
    .slice(0, compareDefaults.alignFinalists);
  for (const { placement } of shifts) {
    const matched = matchedShares(pair, placement);
    if (sharedArea(pair, matched) >= least) return { placement, matched };
  }
  return chosen;
}

/** Whether it scales, and most of a surface says otherwise: at some size a face of anything matches a face of anything. */
function doubtful({ placement, matched }: Chosen): boolean {
  const { scale } = placementParts(placement);
  const far = scale.some(s => Math.abs(s - 1) >= compareDefaults.scaledFrom);
  return far && Math.min(matched.before, matched.after) < compareDefaults.scaledShare;
}

/** Of shares told by samples. Common practice, no source. */
const sampleError = 0.03;

/** The share of both surfaces within the tolerance. */
function sharedArea({ before, after }: Pair, matched: Matched): number {
  const [p, q] = [before.surface.area, after.surface.area];
  return (matched.before * p + matched.after * q) / (p + q);
}

function sameShift(p: Placement, q: Placement, within: number): boolean {
  return [3, 7, 11].every(k => Math.abs(p[k] - q[k]) <= within);
}
