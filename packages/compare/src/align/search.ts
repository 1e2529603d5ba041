import { compareDefaults } from '../defaults.ts';
import { axisScaleCandidates } from './axis-scale.ts';
import { gatherEvidence, isKin } from './evidence.ts';
import { landmarkMotions } from './landmark-motions.ts';
import { findLandmarks, type Landmarks } from './landmarks.ts';
import type { Candidate } from './candidates.ts';
import type { Pair } from './pair.ts';
import type { Placement } from './placement.ts';
import { principalMotions } from './principal-motions.ts';
import { addRanked, consider, emptyRanking, type Consideration, type Ranking } from './ranking.ts';
import { polishByVertices } from './polish.ts';
import { refinePlacement } from './refine.ts';
import { scaleHypotheses, wholeScale } from './scale-hypotheses.ts';
import type { Surface } from './surface.ts';
import { fineRuler, roughRuler, scorePlacement } from './score.ts';
import { matchTriangles } from './triangle-match.ts';
import { plainShifts } from './translations.ts';
import { triangleMotions } from './triangle-motions.ts';

/**
 * Looks for placements of BEFORE on AFTER, cheap and sure sources first, and stops when one is good enough:
 * plain shifts and congruent triangles; outlines and corners of flat patches; the same with scale factors;
 * principal axes for shapes without any of these.
 */
export function searchPlacements(pair: Pair): Ranking {
  const d = compareDefaults;
  const before = pair.before.surface;
  const after = pair.after.surface;
  const ranking = emptyRanking();
  const off = d.alignOffOfDiagonal * after.diagonal;
  const rigid = { scale: false, off };
  const rescaled = rescaledExport(pair);
  if (rescaled !== null) return rescaled;
  consider(pair, ranking, plainShifts(before, after), rigid);
  consider(pair, ranking, triangleMotions(before, after, 1, pair.floor), rigid);
  if (best(ranking) >= d.alignSure || keepsTriangles(pair, ranking)) return ranking;
  const a = findLandmarks(before);
  const b = findLandmarks(after);
  const slack = d.alignClusterOfDiagonal * after.diagonal;
  consider(pair, ranking, landmarkMotions(a, b, 1, slack), rigid);
  if (best(ranking) >= d.alignSure) return ranking;
  const share = heldShare(pair, ranking);
  const strong = share >= 2 * d.kinTightShare;
  if (!strong && best(ranking) < d.alignGood) roughSearch(pair, ranking, 1);
  considerScales(pair, ranking, a, b, share);
  return ranking;
}

function best(ranking: Ranking): number {
  return ranking.ranked[0]?.worth ?? 0;
}

/** The best placement carries most of either surface onto the very same triangles: there is no better one. */
function keepsTriangles(pair: Pair, ranking: Ranking): boolean {
  if (ranking.ranked.length === 0) return false;
  const before = pair.before.surface;
  const after = pair.after.surface;
  const m = polishByVertices(pair, ranking.ranked[0].placement);
  const like = matchTriangles(before.mesh, after.mesh, m, pair.floorGrid());
  let a = 0;
  let b = 0;
  like.beforeToAfter.forEach((g, f) => (a += g >= 0 ? before.faceArea[f] : 0));
  like.afterMatched.forEach((hit, g) => (b += hit === 1 ? after.faceArea[g] : 0));
  const { alignKeptTriangles } = compareDefaults;
  return a > alignKeptTriangles * before.area && b > alignKeptTriangles * after.area;
}

/** The greatest share of both surfaces that a placement fits to the tolerance while holding them in every direction. */
function heldShare(pair: Pair, ranking: Ranking): number {
  const d = compareDefaults;
  let most = 0;
  for (const { placement } of ranking.ranked.slice(0, 3)) {
    const tight = gatherEvidence(pair, placement, pair.tolerance, d.alignChoiceSamples);
    if (tight.hold >= 2 * d.kinHold) most = Math.max(most, Math.min(tight.before, tight.after));
  }
  return most;
}

function considerScales(pair: Pair, ranking: Ranking, a: Landmarks, b: Landmarks, share: number): void {
  const d = compareDefaults;
  const before = pair.before.surface;
  const after = pair.after.surface;
  const slack = d.alignClusterOfDiagonal * after.diagonal;
  for (const s of share > d.alignRigidShare
    ? wholeScale(before, after)
    : scaleHypotheses(before, after, a, b)) {
    consider(pair, ranking, scaledShifts(before, after, s), scaling(after));
    consider(pair, ranking, triangleMotions(before, after, s, pair.floor), scaling(after));
    consider(pair, ranking, landmarkMotions(a, b, s, slack), scaling(after));
    if (best(ranking) >= d.alignSure - d.alignScaleHandicap) return;
    if (heldShare(pair, ranking) > d.alignRigidShare) break;
  }
  for (const placement of axisScaleCandidates(
    pair,
    ranking.ranked.slice(0, 4).map(r => r.placement),
  )) {
    addRanked(pair, ranking, placement);
  }
  if (share >= 2 * d.kinTightShare || best(ranking) >= d.alignGood) return;
  const guess = Math.sqrt(after.area / before.area);
  if (Math.abs(guess - 1) > 0.01) roughSearch(pair, ranking, guess);
}

/**
 * The commonest case of all, one part at another size in the same facets: told by these alone, without a look at what
 * else the shapes may have in common. null when it is not that.
 */
function rescaledExport(pair: Pair): Ranking | null {
  const [before, after] = [pair.before.surface, pair.after.surface];
  if (before.faceArea.length !== after.faceArea.length) return null;
  const ranking = emptyRanking();
  const { alignSure, alignScaleHandicap } = compareDefaults;
  const found = (): boolean =>
    best(ranking) >= alignSure - alignScaleHandicap && keepsTriangles(pair, ranking);
  const fits = wholeScale(before, after).some(s => {
    consider(pair, ranking, scaledShifts(before, after, s), scaling(after));
    if (found()) return true;
    consider(pair, ranking, triangleMotions(before, after, s, pair.floor), scaling(after));
    return found();
  });
  return fits ? ranking : null;
}

function scaledShifts(before: Surface, after: Surface, s: number): Candidate[] {
  return plainShifts(scaledBounds(before, s), after).map(({ placement }) => ({
    placement: withScale(placement, s),
    votes: 0,
  }));
}

function scaling({ diagonal }: Surface): Consideration {
  return { scale: true, off: compareDefaults.alignOffOfDiagonal * diagonal };
}

function withScale(shift: Placement, s: number): Placement {
  return Float64Array.of(s, 0, 0, shift[3], 0, s, 0, shift[7], 0, 0, s, shift[11]);
}

function scaledBounds(surface: Surface, s: number): Surface {
  const times = (v: readonly [number, number, number]): [number, number, number] => [
    v[0] * s,
    v[1] * s,
    v[2] * s,
  ];
  return {
    ...surface,
    min: times(surface.min),
    max: times(surface.max),
    center: times(surface.center),
    centroid: times(surface.centroid),
  };
}

/** First guesses from principal axes, drawn closer from far off in two stages. */
function roughSearch(pair: Pair, ranking: Ranking, scale: number): void {
  const d = compareDefaults;
  const { diagonal } = pair.after.surface;
  const rough = roughRuler(pair);
  const guesses = principalMotions(pair.before.surface, pair.after.surface, scale).map(({ placement }) => {
    ranking.tried += 1;
    return { placement, value: scorePlacement(pair, placement, rough, d.alignRoughSamples).value };
  });
  guesses.sort((p, q) => q.value - p.value);
  const drawn = guesses.slice(0, d.alignRoughRefined).map(({ placement }) => {
    const closer = refinePlacement(pair, placement, {
      count: d.alignRoughRefineSamples,
      from: 0.15 * diagonal,
      to: 0.01 * diagonal,
      steps: d.alignRoughSteps,
      scale: scale !== 1,
    });
    return {
      placement: closer,
      value: scorePlacement(pair, closer, fineRuler(pair), d.alignFirstSamples).value,
    };
  });
  drawn.sort((p, q) => q.value - p.value);
  const closest = drawn.slice(0, 3).map(({ placement }) => ({ placement, votes: 0 }));
  consider(pair, ranking, closest, { scale: scale !== 1, off: 0.02 * diagonal });
}

/** Whether a placement makes one shape the other's kin, and the mean share of the surfaces that coincides. */
export function evidenceUnder(pair: Pair, m: Placement): { kin: boolean; share: number } {
  const count = compareDefaults.alignEvidenceSamples;
  const tight = gatherEvidence(pair, m, pair.tolerance, count);
  const loose = gatherEvidence(
    pair,
    m,
    compareDefaults.alignFarOfDiagonal * pair.after.surface.diagonal,
    count,
  );
  return { kin: isKin(tight, loose), share: (tight.before + tight.after) / 2 };
}
