import { buildTree, type Mesh } from '@kinprint/mesh';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { showings, type Showing, type States } from './best-direction.ts';
import { standApart, type ChangeSubject } from './change-subject.ts';
import { threeQuarter } from './directions.ts';
import type { ChangedSolid } from './marks.ts';
import { surfaceOf, type Surface } from './surface.ts';

/** A change made ready to be drawn, once for all its pictures. */
export interface ChangeScene {
  /** Whether each state is shown as it stands. */
  readonly apart: boolean;
  readonly states: States;
  readonly surfaces: { readonly before: Surface; readonly after: Surface };
  readonly pieces: readonly ChangedSolid[];
  /** Size of the part. */
  readonly size_mm: number;
  /** Surfaces nearer than this coincide. */
  readonly within_mm: number;
  /** What of the change shows from each of the `threeQuarter` directions. */
  readonly fromAbove: readonly Showing[];
}

export function changeScene(subject: ChangeSubject): ChangeScene {
  const { comparison: c, meshes } = subject;
  const apart = standApart(subject);
  const { after } = meshes;
  const before = apart ? meshes.before : (meshes.carried ?? meshes.before);
  const states: States = { before, after, trees: { before: buildTree(before), after: buildTree(after) } };
  const pieces = c.regions.map(({ kind }, k) => ({ kind, mesh: meshes.regions?.[k] ?? nothing }));
  const size_mm = diagonalOf(axisBounds([before, after]));
  const within_mm = 2 * c.tolerance_mm + 1e-5 * size_mm;
  return {
    apart,
    states,
    surfaces: { before: surfaceOf(before), after: surfaceOf(after) },
    pieces,
    size_mm,
    within_mm,
    fromAbove: apart ? [] : showings(states, pieces, threeQuarter, within_mm),
  };
}

const nothing: Mesh = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
