import { bounds, type Mesh, type Note } from '@kinprint/mesh';
import { align, type AlignResult } from './align/align.ts';
import { compareBodies, type CarriedBodies } from './bodies/compare-bodies.ts';
import { alignedVerdict } from './bodies/match.ts';
import type { AlignedVerdict, Alignment } from './comparison.ts';
import { compareDefaults, sameTolerance } from './defaults.ts';
import { noAlignment, placed } from './fixed-alignments.ts';
import { sameTriangles } from './same-triangles.ts';

/** How one shape stands to another, before anything is measured: what their alignment alone tells. */
export interface ShapeRelation {
  readonly kind: 'identical' | 'empty' | 'aligned';
  readonly verdict: AlignedVerdict;
  readonly alignment: Alignment;
  /** Body by body, where both hold several and they went different ways. */
  readonly bodies: CarriedBodies | null;
  readonly notes: readonly Note[];
}

export interface RelateOptions {
  /** Surfaces within this distance are the same; default `pairTolerance`. */
  readonly tolerance_mm?: number;
  /** Compare where the meshes stand. */
  readonly asPlaced?: boolean;
}

/** The same triangles? Else align: motion, reflection, scale; body by body where files hold several. */
export function relateShapes(before: Mesh, after: Mesh, options: RelateOptions = {}): ShapeRelation {
  const { tolerance_mm = pairTolerance(before, after), asPlaced = false } = options;
  if (sameTriangles(before, after))
    return { kind: 'identical', verdict: 'identical', alignment: placed(1), bodies: null, notes: [] };
  if (before.triangles.length === 0 || after.triangles.length === 0) {
    const note: Note = {
      code: 'no-faces',
      text: 'One of the two has no faces: there is nothing to align.',
      about: 'alignment',
    };
    return { kind: 'empty', verdict: 'replaced', alignment: noAlignment, bodies: null, notes: [note] };
  }
  const result = believed(align(before, after, { tolerance_mm, asPlaced }));
  const whole = result.alignment;
  const notes: Note[] = [...result.notes];
  const bodies = result.exact || asPlaced ? null : compareBodies(before, after, whole, tolerance_mm, notes);
  return bodies === null
    ? { kind: 'aligned', verdict: alignedVerdict(result), alignment: whole, bodies, notes }
    : {
        kind: 'aligned',
        verdict: bodies.verdict,
        alignment: bodies.alignment,
        bodies,
        notes: [...notes, ...bodies.notes],
      };
}

/** The larger diagonal of two meshes' bounds; 0 when neither has faces. */
export function pairDiagonal(before: Mesh, after: Mesh): number {
  return Math.max(diagonalOf(before), diagonalOf(after));
}

/** Within which two surfaces count as the same, by the size of the larger. */
export function pairTolerance(before: Mesh, after: Mesh): number {
  return sameTolerance(pairDiagonal(before, after));
}

/**
 * A rework of a rescaled part is believed only when most of both surfaces says so: at some size a face of anything
 * matches a face of anything else. A factor near 1, as two tessellations of one ball have it, is no such claim.
 */
function believed(result: AlignResult): AlignResult {
  const { alignment, exact, matchedBefore, matchedAfter } = result;
  const scaled = alignment.kind === 'uniform-scale' || alignment.kind === 'axis-scale';
  const near = alignment.scale.every(s => Math.abs(s - 1) < compareDefaults.scaledFrom);
  if (!scaled || exact || near || Math.min(matchedBefore, matchedAfter) >= compareDefaults.scaledShare)
    return result;
  return { ...result, alignment: noAlignment, notes: [] };
}

function diagonalOf(mesh: Mesh): number {
  const box = bounds(mesh);
  return box === null
    ? 0
    : Math.hypot(box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]);
}
