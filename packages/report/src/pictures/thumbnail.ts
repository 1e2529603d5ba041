import type { Mesh } from '@kinprint/mesh';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { bestOf } from './best-direction.ts';
import { cameraFor } from './camera.ts';
import type { ChangeScene } from './change-scene.ts';
import type { ChangeSubject } from './change-subject.ts';
import { colors } from './colors.ts';
import { threeQuarter } from './directions.ts';
import { markPaint, marksOf } from './marks.ts';
import { drawView, viewOf } from './panel.ts';
import type { Sheet } from './sheet.ts';
import { surfaceOf, type Surface } from './surface.ts';

/** Pixels of a picture that stands in a list. */
export interface ThumbnailSize {
  readonly width: number;
  readonly height: number;
}

/** A small picture of a part without words: after, with what changed marked, from the side that shows it best. */
export function changeThumbnail(
  { meshes, title }: ChangeSubject,
  size: ThumbnailSize,
  { apart, states, surfaces, pieces, size_mm, within_mm, fromAbove }: ChangeScene,
): Sheet {
  if (apart || meshes.regions === undefined) return thumbnailOf(surfaces.after, title, size);
  const camera = cameraFor([states.after], bestOf(fromAbove).direction, frameOf(size));
  const view = viewOf(surfaces.after, camera, size_mm);
  const marks = marksOf(view.image, pieces, 'after', states.trees.before, within_mm);
  return sheetOf(size, title, drawView(view, 0, 0, title, markPaint(marks, pieces)));
}

/** A small picture of a part as it is, without words. */
export function partThumbnail(mesh: Mesh, title: string, size: ThumbnailSize): Sheet {
  return thumbnailOf(surfaceOf(mesh), title, size);
}

function thumbnailOf(surface: Surface, title: string, size: ThumbnailSize): Sheet {
  const { mesh } = surface;
  if (mesh.triangles.length === 0) return sheetOf(size, title, []);
  const camera = cameraFor([mesh], threeQuarter[0], frameOf(size));
  const view = viewOf(surface, camera, diagonalOf(axisBounds([mesh])));
  return sheetOf(size, title, drawView(view, 0, 0, title));
}

function frameOf({ width, height }: ThumbnailSize) {
  return { width_px: width, height_px: height, margin_px: Math.round(0.08 * height) };
}

function sheetOf(size: ThumbnailSize, title: string, items: Sheet['items']): Sheet {
  return { ...size, background: colors.card, title, description: title, items };
}
