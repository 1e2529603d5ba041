import type { Camera } from './camera.ts';
import { colors } from './colors.ts';
import { depthImage, type DepthImage } from './depth-image.ts';
import { visibleLines, type VisibleLine } from './lines.ts';
import { occlusion } from './occlusion.ts';
import { shade, type Paint } from './shade.ts';
import type { Item } from './sheet.ts';
import type { Surface } from './surface.ts';

/** A surface as a camera shows it. */
export interface View {
  readonly surface: Surface;
  readonly image: DepthImage;
  readonly lines: readonly VisibleLine[];
  /** Per pixel 0…1, how much of the sky is hidden there. */
  readonly hidden: Float32Array;
}

/** @param size_mm the size of the part: shadows reach a share of it */
export function viewOf(surface: Surface, camera: Camera, size_mm: number): View {
  const image = depthImage(surface.mesh, camera);
  return {
    surface,
    image,
    lines: visibleLines(surface, image),
    hidden: occlusion(surface, image, 0.06 * size_mm),
  };
}

/** How a line is drawn: outlines are the heaviest, as in technical drawings (ISO 128). */
const pens: Readonly<
  Record<VisibleLine['kind'], { readonly width: number; readonly color: string; readonly opacity: number }>
> = {
  outline: { width: 1.9, color: colors.ink, opacity: 1 },
  open: { width: 1.9, color: colors.ink, opacity: 1 },
  edge: { width: 1, color: colors.ink, opacity: 0.75 },
};

/**
 * A view as items of a sheet, its upper left corner at x, y.
 *
 * @param under what is drawn over the surface and under its lines
 */
export function drawView(
  { surface, image, lines, hidden }: View,
  x: number,
  y: number,
  title: string,
  paint: Paint | null = null,
  under: readonly Item[] = [],
): Item[] {
  const pixels = shade(surface, image, hidden, paint);
  return [{ kind: 'raster', x, y, pixels, title }, ...under, ...drawLines(lines, x, y)];
}

export function drawLines(lines: readonly VisibleLine[], x: number, y: number): Item[] {
  return (['edge', 'open', 'outline'] as const).flatMap(kind => {
    const chosen = lines.filter(line => line.kind === kind).map(line => moved(line.points, x, y));
    return chosen.length === 0 ? [] : [{ kind: 'stroke' as const, lines: chosen, ...pens[kind] }];
  });
}

export function moved(points: readonly number[], x: number, y: number): number[] {
  return points.map((v, k) => v + (k % 2 === 0 ? x : y));
}
