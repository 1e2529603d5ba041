import { compareDefaults } from '../defaults.ts';
import { clusterCandidates, samePlacement, type Candidate } from './candidates.ts';
import type { Pair } from './pair.ts';
import { determinantOf, type Placement } from './placement.ts';
import { refinePlacement } from './refine.ts';
import { fineRuler, scorePlacement } from './score.ts';

/** A placement that was drawn close and scored. */
export interface Ranked {
  readonly placement: Placement;
  /** Score by `alignChoiceSamples` samples, 0…1. */
  readonly value: number;
  /** `value` less a handicap for scaling and mirroring: the simpler explanation wins unless it is clearly worse. */
  readonly worth: number;
}

/** All that was tried for one pair. */
export interface Ranking {
  /** Refined placements, best worth first. */
  readonly ranked: Ranked[];
  /** Unrefined placements that scored nearly as well as the best: symmetric alternatives among them. */
  readonly near: Placement[];
  tried: number;
}

export function emptyRanking(): Ranking {
  return { ranked: [], near: [], tried: 0 };
}

export interface Consideration {
  /** Fit a scale factor as well. */
  readonly scale: boolean;
  /** How far off the candidates may be, in mm. */
  readonly off: number;
}

/** Takes candidates of one source into the ranking: a first look at all, a refinement of the best. */
export function consider(
  pair: Pair,
  ranking: Ranking,
  candidates: readonly Candidate[],
  how: Consideration,
): void {
  const d = compareDefaults;
  const ruler = fineRuler(pair);
  const reach = d.alignClusterOfDiagonal * pair.after.surface.diagonal;
  const clustered = clusterCandidates(candidates, pair.before.surface, reach, d.alignCandidates);
  let bar = Math.max(0.05, (ranking.ranked[0]?.value ?? 0) - d.alignScoreMargin);
  const looked: { placement: Placement; value: number }[] = [];
  for (const { placement } of clustered) {
    ranking.tried += 1;
    const { value, complete } = scorePlacement(pair, placement, ruler, d.alignFirstSamples, bar);
    if (!complete) continue;
    looked.push({ placement, value });
    bar = Math.max(bar, value - d.alignScoreMargin);
  }
  looked.sort((a, b) => b.value - a.value);
  for (const { placement, value } of looked) if (value >= bar) ranking.near.push(placement);
  for (const { placement, value } of looked.slice(0, d.alignRefined)) {
    if (value < bar) break;
    if (ranking.ranked.some(r => samePlacement(r.placement, placement, pair.before.surface, 0.1 * reach)))
      continue;
    addRanked(pair, ranking, placement);
    const refined = refinePlacement(pair, placement, {
      count: d.alignRefineSamples,
      from: how.off,
      to: 4 * pair.floor,
      scale: how.scale,
    });
    if (refined !== placement) addRanked(pair, ranking, refined);
  }
}

export function addRanked(pair: Pair, ranking: Ranking, placement: Placement): void {
  const d = compareDefaults;
  const { value } = scorePlacement(pair, placement, fineRuler(pair), d.alignChoiceSamples);
  const determinant = determinantOf(placement);
  const scaled = Math.abs(Math.abs(determinant) - 1) > 1e-7;
  const reach = 0.02 * d.alignClusterOfDiagonal * pair.after.surface.diagonal;
  const twin = ranking.ranked.findIndex(r =>
    samePlacement(r.placement, placement, pair.before.surface, reach),
  );
  if (twin >= 0 && ranking.ranked[twin].value >= value) return;
  if (twin >= 0) ranking.ranked.splice(twin, 1);
  const worth = value - (scaled ? d.alignScaleHandicap : 0) - (determinant < 0 ? d.alignMirrorHandicap : 0);
  ranking.ranked.push({ placement, value, worth });
  ranking.ranked.sort((a, b) => b.worth - a.worth);
}
