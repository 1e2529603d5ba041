import {
  align,
  compareDefaults,
  deviation,
  matchedShare,
  sameTolerance,
  surfacePoints,
  type Deviation,
} from '@kinprint/compare';
import { bounds, buildTree, transformMesh, type Affine, type Mesh } from '@kinprint/mesh';
import { kinDefaults } from './kin-defaults.ts';
import { sameFeatures } from './same-features.ts';
import { sameOrderFit } from './same-order.ts';

/**
 * How a shape is related to another, by what is left when the rest is taken away:
 *
 * - `same-shape`: the same surface, where it stands; `moved`: elsewhere; `mirrored`; `rescaled` (and any of these).
 * - `reworked`: made from the other and changed, perhaps also moved, mirrored or rescaled.
 */
export type KinRelation = 'same-shape' | 'moved' | 'mirrored' | 'rescaled' | 'reworked';

/** That two shapes are related, with what was measured. */
export interface Kinship {
  readonly relation: KinRelation;
  readonly mirrored: boolean;
  /** Size of the candidate, with the query as 1; 1 exactly when nothing was scaled. */
  readonly scale: number;
  /** The same shape in facets of another size: farther apart than roundings, by no more than chords explain. */
  readonly other_facets: boolean;
  /** Shares of the query's and of the candidate's surface, 0…1, that coincide. */
  readonly matched_query: number;
  readonly matched_candidate: number;
  /** Within this distance surfaces were taken to coincide. */
  readonly within_mm: number;
  /** In the candidate's frame and size. */
  readonly deviation: Deviation;
}

/**
 * Compares two shapes: aligned (with reflection and scale), then measured. null when they are not related: a shape of
 * which no more coincides than chance gives is no relative, however alike the fingerprints are.
 *
 * Limits: a shape stretched along one axis alone is no relative (every block is a stretched block), nor is a size that
 * was drawn anew from other figures, where no surface is left in place.
 */
export function verifyKin(query: Mesh, candidate: Mesh): Kinship | null {
  const diagonal = diagonalOf(candidate);
  if (!(diagonal > 0) || !(diagonalOf(query) > 0)) return null;
  const within_mm = Math.max(sameTolerance(diagonal), kinDefaults.sameOfDiagonal * diagonal);
  const placed = placedOn(query, candidate, diagonal);
  if (placed === null) return null;
  const carried = transformMesh(query, placed.matrix);
  const trees = { treeBefore: buildTree(carried), treeAfter: buildTree(candidate) };
  const scaled = placed.scale !== 1;
  const matched_query = matchedShare(trees.treeAfter, surfacePoints(carried, points), within_mm);
  const matched_candidate = matchedShare(trees.treeBefore, surfacePoints(candidate, points), within_mm);
  const least = scaled ? kinDefaults.scaledReworkedShare : kinDefaults.reworkedShare;
  const shared = Math.min(matched_query, matched_candidate);
  // Before the deviation, which takes longer: of one and the same surface every point coincides.
  if (shared < least) return null;
  const { deviation: gap } = deviation(carried, candidate, { tolerance_mm: within_mm, ...trees });
  if (gap === null) return null;
  const same = gap.max_mm + gap.max_error_mm <= within_mm;
  const chords_mm = compareDefaults.chordShareOfDiagonal * diagonal;
  const other_facets =
    !same &&
    query.triangles.length !== candidate.triangles.length &&
    gap.max_mm + gap.max_error_mm <= chords_mm &&
    shared >= kinDefaults.otherFacetsShare &&
    sameFeatures(carried, candidate, within_mm, chords_mm);
  return {
    relation: same || other_facets ? relationOf(placed) : 'reworked',
    mirrored: placed.mirrored,
    scale: placed.scale,
    other_facets,
    matched_query,
    matched_candidate,
    within_mm,
    deviation: gap,
  };
}

/** Points that a share is estimated from: ±2 % (binomial, 2 σ). */
const points = 2000;

/** How the query is brought onto the candidate. */
interface Placed {
  readonly matrix: Affine;
  readonly mirrored: boolean;
  /** Exactly 1 where nothing was scaled. */
  readonly scale: number;
  readonly still: boolean;
}

/** null where nothing makes the shapes kin. */
function placedOn(query: Mesh, candidate: Mesh, diagonal: number): Placed | null {
  const within_mm = kinDefaults.sameOrderOfDiagonal * diagonal;
  const ordered = sameOrderFit(query, candidate, within_mm, kinDefaults.scaledFrom);
  // A cube given a quarter turn fills the same space: whether it is where it stood, the alignment tells.
  if (ordered !== null && (ordered.still || !sameBounds(query, candidate, within_mm)))
    return { ...ordered, mirrored: false };
  const { alignment } = align(query, candidate, { tolerance_mm: sameTolerance(diagonal) });
  const { kind, matrix, mirrored } = alignment;
  if (kind === 'none' || kind === 'axis-scale') return null;
  const [factor] = alignment.scale;
  const scale = Math.abs(Math.log(factor)) > kinDefaults.scaledFrom ? factor : 1;
  return { matrix, mirrored, scale, still: kind === 'identity' };
}

function sameBounds(a: Mesh, b: Mesh, within_mm: number): boolean {
  const [one, other] = [bounds(a), bounds(b)];
  if (one === null || other === null) return false;
  return [0, 1, 2].every(
    k => Math.abs(one.min[k] - other.min[k]) <= within_mm && Math.abs(one.max[k] - other.max[k]) <= within_mm,
  );
}

function relationOf({ scale, mirrored, still }: Placed): KinRelation {
  if (scale !== 1) return 'rescaled';
  if (mirrored) return 'mirrored';
  return still ? 'same-shape' : 'moved';
}

function diagonalOf(mesh: Mesh): number {
  const box = bounds(mesh);
  return box === null
    ? 0
    : Math.hypot(box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]);
}
