import type { Mesh, Note } from '@kinprint/mesh';
import type { Alignment } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';
import { closestToNoMotion, type Chosen } from './closest-motion.ts';
import { describePlacement, kindOf } from './describe.ts';
import { alignmentNotes } from './alignment-notes.ts';
import { matchedShares } from './matched.ts';
import { preparePair, type Pair } from './pair.ts';
import { identityPlacement, type Placement } from './placement.ts';
import { plainlyPlaced } from './plainly-placed.ts';
import { polishByVertices } from './polish.ts';
import type { Ranking } from './ranking.ts';
import { refinePlacement } from './refine.ts';
import { fineRuler, scorePlacement } from './score.ts';
import { evidenceUnder, searchPlacements } from './search.ts';
import { snapPlacement } from './snap.ts';

export interface AlignOptions {
  /** Two surfaces are the same within it. */
  readonly tolerance_mm: number;
  /** Compare the meshes where they stand: the alignment is the identity. */
  readonly asPlaced?: boolean;
}

export interface AlignResult {
  readonly alignment: Alignment;
  /** Every tested point of both surfaces lies within the tolerance: see `matchedShares`. */
  readonly exact: boolean;
  /** The same triangles on both sides, in whatever order. */
  readonly sameTriangles: boolean;
  /** Shares of the two surfaces, 0…1, within the tolerance of the other. */
  readonly matchedBefore: number;
  readonly matchedAfter: number;
  /** Placements looked at. */
  readonly tried: number;
  readonly notes: readonly Note[];
}

/**
 * Finds the map that brings BEFORE onto AFTER: what is unchanged decides, so a part that was moved and reworked is
 * brought home by the rest of its surface. Rigid motions, reflections, one scale factor, and per-axis factors when
 * the whole shape agrees. Where symmetry allows several, the one closest to no motion; standing still and plain shifts
 * give way only to what fits clearly better (`plainlyPlaced`). `kind` is `none`, and the matrix the identity, when
 * nothing makes the shapes kin. Deterministic; never throws on unsound meshes.
 *
 * Limits: a chance symmetry broken only by details smaller than the sampling (some 2000 points, half of them
 * spread over the faces evenly) may be decided wrongly in a reworked part; an exact fit is tested on all faces.
 */
export function align(before: Mesh, after: Mesh, options: AlignOptions): AlignResult {
  const pair = preparePair(before, after, options.tolerance_mm);
  if (pair === null) return withoutFaces(options);
  const identity = identityPlacement();
  if (options.asPlaced === true)
    return resultOf(pair, { placement: identity, matched: matchedShares(pair, identity) }, 1, false);
  const first = scorePlacement(
    pair,
    identity,
    fineRuler(pair),
    compareDefaults.alignFirstSamples,
    compareDefaults.alignSure,
  );
  if (first.complete) {
    const matched = matchedShares(pair, identity);
    if (matched.exact) return resultOf(pair, { placement: identity, matched }, 1, first.insideOut);
  }
  const ranking = searchPlacements(pair);
  const chosen = plainlyPlaced(pair, choose(pair, ranking));
  if (chosen === null) return notKin(pair, ranking.tried);
  const closest = closestToNoMotion(pair, chosen, ranking.near);
  const snapped = snapPlacement(pair, closest);
  const { insideOut } = scorePlacement(
    pair,
    snapped.placement,
    fineRuler(pair),
    compareDefaults.alignChoiceSamples,
  );
  return resultOf(pair, snapped, ranking.tried, snapped.matched.insideOut ?? insideOut);
}

/** The best placement that makes the shapes kin; one that fits exactly goes before any that does not. */
function choose(pair: Pair, { ranked }: Ranking): Chosen | null {
  const d = compareDefaults;
  const finalists = ranked
    .filter(r => r.worth >= (ranked[0]?.worth ?? 0) - d.alignScoreMargin)
    .slice(0, d.alignFinalists);
  const byValue = [...ranked].sort((p, q) => q.value - p.value).slice(0, 3);
  let best: Chosen | null = null;
  for (const { placement: found, value } of byValue) {
    if (value < d.alignExactScore) continue;
    const placement = polishByVertices(pair, found);
    const matched = matchedShares(pair, placement);
    if (matched.exact && (best === null || (matched.sameTriangles && !best.matched.sameTriangles)))
      best = { placement, matched };
  }
  if (best !== null) return best;
  let most = -1;
  let kept: Placement | null = null;
  for (const { placement, worth } of finalists) {
    const evidence = evidenceUnder(pair, placement);
    if (!evidence.kin) continue;
    const rank = worth + evidence.share;
    if (rank <= most) continue;
    most = rank;
    kept = placement;
  }
  if (kept === null) return null;
  const placement = polishByVertices(pair, drawnHome(pair, kept));
  return { placement, matched: matchedShares(pair, placement) };
}

/** A last refinement with all samples, kept when it scores no worse. */
function drawnHome(pair: Pair, m: Placement): Placement {
  const count = compareDefaults.alignSamples;
  const scale = kindOf(m) === 'uniform-scale';
  const closer = refinePlacement(pair, m, { count, from: 16 * pair.floor, to: 4 * pair.floor, scale });
  const ruler = fineRuler(pair);
  const now = scorePlacement(pair, m, ruler, compareDefaults.alignChoiceSamples);
  const then = scorePlacement(pair, closer, ruler, compareDefaults.alignChoiceSamples);
  return then.value >= now.value ? closer : m;
}

function resultOf(
  pair: Pair,
  { placement, matched }: Chosen,
  tried: number,
  insideOut: boolean,
): AlignResult {
  const { center, area } = pair.before.surface;
  const areaAfter = pair.after.surface.area;
  const share = (matched.before * area + matched.after * areaAfter) / (area + areaAfter);
  const alignment = describePlacement(placement, kindOf(placement), center, share);
  return {
    alignment,
    exact: matched.exact,
    sameTriangles: matched.sameTriangles,
    matchedBefore: matched.before,
    matchedAfter: matched.after,
    tried,
    notes: alignmentNotes(placement, alignment, insideOut),
  };
}

function notKin(pair: Pair, tried: number): AlignResult {
  const identity = identityPlacement();
  const result = resultOf(
    pair,
    { placement: identity, matched: matchedShares(pair, identity) },
    tried,
    false,
  );
  return { ...result, alignment: { ...result.alignment, kind: 'none' } };
}

function withoutFaces(options: AlignOptions): AlignResult {
  const kind = options.asPlaced === true ? 'identity' : 'none';
  return {
    alignment: describePlacement(identityPlacement(), kind, [0, 0, 0], 0),
    exact: false,
    sameTriangles: false,
    matchedBefore: 0,
    matchedAfter: 0,
    tried: 0,
    notes: [
      {
        code: 'align-no-faces',
        text: 'One of the meshes has no face with an area, so nothing can be aligned.',
        about: 'alignment',
      },
    ],
  };
}
