import type { Mesh } from '@kinprint/mesh';
import { plural } from '../terminal/words.ts';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { cameraFor, type Camera, type ViewDirection } from './camera.ts';
import { colors } from './colors.ts';
import { pictureDefaults } from './defaults.ts';
import { dimensionText } from './dimensions.ts';
import { threeQuarter } from './directions.ts';
import { fitLettering, letteringWidth } from './lettering.ts';
import { drawView, viewOf } from './panel.ts';
import { heading, type PartPictureOptions } from './part-picture.ts';
import { drawScaleBar, scaleBar } from './scale-bar.ts';
import type { Item, Sheet } from './sheet.ts';
import { surfaceOf } from './surface.ts';

/** All parts of something side by side, at one scale. */
export interface PartsPicture {
  readonly sheet: Sheet;
  readonly camera: Camera;
  readonly scaleBar_mm: number;
}

/** The picture of several parts: a row or a few, each with its name and size, all from one direction and at one scale. */
export function partsPicture(
  parts: readonly { readonly name: string; readonly mesh: Mesh }[],
  title: string,
  options: PartPictureOptions = {},
): PartsPicture {
  const width = options.width ?? pictureDefaults.part.width;
  const height = options.height ?? pictureDefaults.part.height;
  const direction: ViewDirection = options.direction ?? threeQuarter[0];
  const k = Math.min(width / 1200, height / 900);
  const text = { title: Math.max(9, 15 * k), small: Math.max(7.5, 10 * k) };
  const pad = Math.round(44 * k);
  const top = Math.round(pad + text.title + 2.5 * text.small + 12 * k);
  const bottom = pad + Math.round(16 * k);
  const columns = columnsFor(parts.length, width / (height - top - bottom));
  const rows = Math.max(1, Math.ceil(parts.length / columns));
  const cell = {
    width: Math.floor((width - 2 * pad) / columns),
    height: Math.floor((height - top - bottom) / rows),
  };
  const frame = {
    width_px: cell.width,
    height_px: Math.max(20, cell.height - Math.round(4.6 * text.small)),
    margin_px: Math.round(14 * k),
  };
  const cameras = parts.map(({ mesh }) => cameraFor([mesh], direction, frame));
  const filled = cameras.filter((_, n) => parts[n].mesh.triangles.length > 0);
  const pixelsPerMm = filled.length > 0 ? Math.min(...filled.map(each => each.pixelsPerMm)) : 1;
  const bar = scaleBar(pixelsPerMm, 0.2 * width);
  const seen = `${plural(parts.length, 'part')}, at one scale, seen from the ${direction.name}`;
  const items: Item[] = heading(title, seen, pad, pad, width - 2 * pad, text);
  parts.forEach(({ name, mesh }, n) => {
    const x = pad + (n % columns) * cell.width;
    const y = top + Math.floor(n / columns) * cell.height;
    const box = axisBounds([mesh]);
    const size = [0, 1, 2].map(a => dimensionText(box.max[a as 0] - box.min[a as 0])).join(' × ');
    const empty = mesh.triangles.length === 0;
    const camera = { ...cameras[n], pixelsPerMm };
    if (!empty) items.push(...drawView(viewOf(surfaceOf(mesh), camera, diagonalOf(box)), x, y, name));
    const centered = (line: string, at: number, color: string, weight: 'plain' | 'bold'): Item => {
      const fitted = fitLettering(line, text.small, cell.width - 12);
      const left = x + (cell.width - letteringWidth(fitted, text.small)) / 2;
      return { kind: 'text', x: left, y: y + at, text: fitted, size: text.small, color, weight };
    };
    items.push(
      centered(name, frame.height_px + 1.4 * text.small, colors.ink, 'bold'),
      centered(empty ? 'no faces' : `${size} mm`, frame.height_px + 3.2 * text.small, colors.soft, 'plain'),
    );
  });
  items.push(...drawScaleBar(bar, pad, height - pad, text.small));
  const description = `${title}: ${parts.map(({ name }) => name).join(', ')}. ${seen}.`;
  return {
    sheet: { width, height, background: colors.page, title, description, items },
    camera: { ...cameras[0], pixelsPerMm },
    scaleBar_mm: bar.length_mm,
  };
}

/** As many columns as make the cells come nearest to squares. */
export function columnsFor(count: number, aspect: number): number {
  let [best, least] = [1, Infinity];
  for (let columns = 1; columns <= Math.max(1, count); columns++) {
    const ratio = (aspect / columns) * Math.ceil(count / columns);
    const off = ratio > 1 ? ratio : 1 / ratio;
    if (off < least - 1e-9) [best, least] = [columns, off];
  }
  return best;
}
