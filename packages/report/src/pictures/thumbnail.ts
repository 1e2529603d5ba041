import { buildTree, type Mesh } from '@kinprint/mesh';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { bestOf, showings } from './best-direction.ts';
import { cameraFor } from './camera.ts';
import { standApart, type ChangeSubject } from './change-picture.ts';
import { colors } from './colors.ts';
import { threeQuarter } from './directions.ts';
import { markPaint, marksOf } from './marks.ts';
import { drawView, viewOf } from './panel.ts';
import type { Sheet } from './sheet.ts';
import { surfaceOf } from './surface.ts';

/** Pixels of a picture that stands in a list. */
export interface ThumbnailSize {
  readonly width: number;
  readonly height: number;
}

/** A small picture of a part without words: after, with what changed marked, from the side that shows it best. */
export function changeThumbnail(subject: ChangeSubject, size: ThumbnailSize): Sheet {
  const { comparison: c, meshes, title } = subject;
  if (standApart(subject) || meshes.regions === undefined) return partThumbnail(meshes.after, title, size);
  const before = meshes.carried ?? meshes.before;
  const { after } = meshes;
  const pieces = c.regions.map(({ kind }, k) => ({ kind, mesh: meshes.regions?.[k] ?? nothing }));
  const size_mm = diagonalOf(axisBounds([before, after]));
  const within_mm = 2 * c.tolerance_mm + 1e-5 * size_mm;
  const trees = { before: buildTree(before), after: buildTree(after) };
  const { direction } = bestOf(showings({ before, after, trees }, pieces, threeQuarter, within_mm));
  const camera = cameraFor([after], direction, frameOf(size));
  const view = viewOf(surfaceOf(after), camera);
  const marks = marksOf(view.image, pieces, 'after', trees.before, within_mm);
  return sheetOf(size, title, drawView(view, 0, 0, size_mm, title, markPaint(marks, pieces)));
}

/** A small picture of a part as it is, without words. */
export function partThumbnail(mesh: Mesh, title: string, size: ThumbnailSize): Sheet {
  if (mesh.triangles.length === 0) return sheetOf(size, title, []);
  const view = viewOf(surfaceOf(mesh), cameraFor([mesh], threeQuarter[0], frameOf(size)));
  return sheetOf(size, title, drawView(view, 0, 0, diagonalOf(axisBounds([mesh])), title));
}

function frameOf({ width, height }: ThumbnailSize) {
  return { width_px: width, height_px: height, margin_px: Math.round(0.08 * height) };
}

function sheetOf(size: ThumbnailSize, title: string, items: Sheet['items']): Sheet {
  return { ...size, background: colors.card, title, description: title, items };
}

const nothing: Mesh = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
