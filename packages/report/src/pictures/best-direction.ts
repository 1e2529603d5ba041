import type { Mesh, TriangleTree } from '@kinprint/mesh';
import { cameraFor, type ViewDirection } from './camera.ts';
import { depthImage } from './depth-image.ts';
import { marksOf, type ChangedSolid } from './marks.ts';

/** What of a change can be seen from a direction. */
export interface Showing {
  readonly direction: ViewDirection;
  /** mm² of changed surface in the plane of the picture: added on AFTER, removed on BEFORE. */
  readonly visible_mm2: number;
}

/** The two states of a part in one frame. */
export interface States {
  readonly before: Mesh;
  readonly after: Mesh;
  readonly trees: { readonly before: TriangleTree; readonly after: TriangleTree };
}

/** Size of the trial images, which show what changed and no more. */
const trial = { width_px: 128, height_px: 96, margin_px: 2 } as const;

/**
 * The changed surface that each direction shows, over both states. Among directions that show as much, to within a
 * twentieth, the earlier one is better.
 */
export function showings(
  { before, after, trees }: States,
  pieces: readonly ChangedSolid[],
  candidates: readonly ViewDirection[],
  within_mm: number,
): Showing[] {
  const changed = pieces.map(({ mesh }) => mesh).filter(({ triangles }) => triangles.length > 0);
  if (changed.length === 0) return candidates.map(direction => ({ direction, visible_mm2: 0 }));
  return candidates.map(direction => {
    const camera = cameraFor(changed, direction, trial);
    let samples = 0;
    const sides = [
      ['before', before, 'removed'],
      ['after', after, 'added'],
    ] as const;
    for (const [shown, mesh, kind] of sides) {
      if (!pieces.some(piece => piece.kind === kind)) continue;
      const marks = marksOf(
        depthImage(mesh, camera, 1),
        pieces.map(piece => (piece.kind === kind ? piece : { ...piece, mesh: nothing })),
        shown,
        trees[shown === 'before' ? 'after' : 'before'],
        within_mm,
      );
      for (let k = 0; k < marks.length; k++) if (marks[k] !== 0) samples++;
    }
    return { direction, visible_mm2: samples / (camera.pixelsPerMm * camera.pixelsPerMm) };
  });
}

const nothing: Mesh = { positions: new Float32Array(0), triangles: new Uint32Array(0) };

/** The direction that shows most. */
export function bestOf(showing: readonly Showing[]): Showing {
  return showing.reduce((best, next) => (next.visible_mm2 > 1.05 * best.visible_mm2 ? next : best));
}
