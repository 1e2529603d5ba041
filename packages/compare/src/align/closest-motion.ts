import { compareDefaults } from '../defaults.ts';
import { samePlacement } from './candidates.ts';
import { matchedShares, type Matched } from './matched.ts';
import { compareCosts, motionCost, type MotionCost } from './motion-cost.ts';
import type { Pair } from './pair.ts';
import { isFinitePlacement, type Placement } from './placement.ts';
import { polishByVertices } from './polish.ts';
import { refinePlacement } from './refine.ts';
import { fineRuler, scorePlacement } from './score.ts';
import { symmetricAlternatives } from './symmetric-alternatives.ts';

export interface Chosen {
  readonly placement: Placement;
  readonly matched: Matched;
}

/**
 * Where symmetry makes several placements equally good, the one closest to no motion. Alternatives are tried from
 * the closest on; the first that coincides as well as the best is taken.
 */
export function closestToNoMotion(pair: Pair, best: Chosen, near: readonly Placement[]): Chosen {
  const d = compareDefaults;
  const { center, diagonal } = pair.before.surface;
  const slackShift = Math.max(pair.tolerance, 1e-6 * diagonal);
  const slackAngle = Math.max(1e-6, (2 * pair.tolerance) / diagonal);
  const cost = motionCost(best.placement, center);
  const cheaper = (c: MotionCost): boolean => compareCosts(c, cost, slackAngle, slackShift) < 0;
  // What differs by less than a candidate may be off is the best itself, drawn less close.
  const off = d.alignOffOfDiagonal * pair.after.surface.diagonal;
  const isSame = (m: Placement): boolean => samePlacement(m, best.placement, pair.before.surface, off);
  const ruler = fineRuler(pair);
  const { value } = scorePlacement(pair, best.placement, ruler, d.alignChoiceSamples);
  const options = [...near, ...symmetricAlternatives(pair, best.placement)]
    .filter(isFinitePlacement)
    .map((placement, k) => ({ placement, k, cost: motionCost(placement, center) }))
    .filter(o => cheaper(o.cost) && !isSame(o.placement))
    // Strict order for sorting: slack would make it intransitive.
    .sort((p, q) => compareCosts(p.cost, q.cost, 0, 0) || p.k - q.k);
  for (const option of options) {
    const look = scorePlacement(
      pair,
      option.placement,
      ruler,
      d.alignFirstSamples,
      value - d.alignScoreMargin,
    );
    if (!look.complete) continue;
    for (const placement of [option.placement, polishByVertices(pair, drawnClose(pair, option.placement))]) {
      if (!cheaper(motionCost(placement, center)) || isSame(placement)) continue;
      const full = scorePlacement(pair, placement, ruler, d.alignChoiceSamples, value - d.alignEqualScore);
      if (!full.complete) continue;
      const matched = matchedShares(pair, placement);
      if (asGood(matched, best.matched)) return { placement, matched };
    }
  }
  return best;
}

function drawnClose(pair: Pair, m: Placement): Placement {
  return refinePlacement(pair, m, {
    count: compareDefaults.alignRefineSamples,
    from: compareDefaults.alignOffOfDiagonal * pair.after.surface.diagonal,
    to: 4 * pair.floor,
    scale: false,
  });
}

/** Whether nothing is lost by taking `a` for `b`. */
export function asGood(a: Matched, b: Matched): boolean {
  if (b.exact && !a.exact) return false;
  const slack = compareDefaults.alignEqualShare;
  return a.before >= b.before - slack && a.after >= b.after - slack;
}
