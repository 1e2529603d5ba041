import type { Mesh, Vec3 } from '@kinprint/mesh';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { axesOf, cameraFor, type Camera, type ViewDirection } from './camera.ts';
import { colors } from './colors.ts';
import { pictureDefaults } from './defaults.ts';
import { dimensionedCorners, dimensionText, drawDimensions } from './dimensions.ts';
import { threeQuarter } from './directions.ts';
import { fitLettering } from './lettering.ts';
import { moved, drawView, viewOf } from './panel.ts';
import { drawScaleBar, scaleBar } from './scale-bar.ts';
import type { Item, Sheet } from './sheet.ts';
import { surfaceOf } from './surface.ts';

export interface PictureOptions {
  readonly width?: number;
  readonly height?: number;
}

export interface PartPictureOptions extends PictureOptions {
  readonly direction?: ViewDirection;
}

/** A picture, and what it says in figures. */
export interface PartPicture {
  readonly sheet: Sheet;
  readonly camera: Camera;
  readonly scaleBar_mm: number;
  readonly size_mm: readonly [number, number, number] | null;
}

/** The picture of one part: shaded, with its edges, overall dimensions and a scale bar. */
export function partPicture(mesh: Mesh, title: string, options: PartPictureOptions = {}): PartPicture {
  const { width, height } = { ...pictureDefaults.part, ...defined(options) };
  const direction = options.direction ?? threeQuarter[0];
  const k = Math.min(width / 1200, height / 900);
  const text = { title: Math.max(9, 15 * k), small: Math.max(7.5, 10 * k) };
  const pad = Math.round(44 * k);
  const top = Math.round(pad + text.title + text.small + 20 * k);
  const bottom = Math.round(pad + 14 * k);
  const box = axisBounds([mesh]);
  const size =
    mesh.triangles.length === 0
      ? null
      : ([0, 1, 2].map(n => box.max[n as 0] - box.min[n as 0]) as unknown as [number, number, number]);
  const camera = cameraFor([mesh, pointsMesh(dimensionedCorners(box, axesOf(direction)))], direction, {
    width_px: width,
    height_px: height - top - bottom,
    margin_px: Math.min(72, Math.round(0.12 * Math.min(width, height))),
  });
  const bar = scaleBar(camera.pixelsPerMm, 0.24 * width);
  const seen = `seen from the ${direction.name}`;
  const line = [size === null ? 'no faces' : `${size.map(dimensionText).join(' × ')} mm`, seen].join(' · ');
  const items: Item[] = [
    ...heading(title, line, pad, pad, width - 2 * pad, text),
    ...(size === null
      ? []
      : drawView(viewOf(surfaceOf(mesh), camera, diagonalOf(box)), 0, top, `${title}, ${seen}`)),
    ...(size === null ? [] : drawDimensions(box, camera, text.small).map(item => lowered(item, top))),
    ...drawScaleBar(bar, pad, height - pad, text.small),
  ];
  return {
    sheet: { width, height, background: colors.page, title, description: `${title}: ${line}.`, items },
    camera,
    scaleBar_mm: bar.length_mm,
    size_mm: size,
  };
}

/** Points as a mesh, for what takes meshes to find out how large they are. */
function pointsMesh(points: readonly Vec3[]): Mesh {
  const triangles = Uint32Array.from({ length: 3 * points.length }, (_, k) => Math.floor(k / 3));
  return { positions: Float64Array.from(points.flat()), triangles };
}

/** Title and line below it; y is where the title's capitals begin. */
export function heading(
  title: string,
  line: string,
  x: number,
  y: number,
  room: number,
  text: { readonly title: number; readonly small: number },
): Item[] {
  return [
    {
      kind: 'text',
      x,
      y: y + text.title,
      text: fitLettering(title, text.title, room),
      size: text.title,
      color: colors.ink,
      weight: 'bold',
    },
    {
      kind: 'text',
      x,
      y: y + text.title + 1.9 * text.small,
      text: fitLettering(line, text.small, room),
      size: text.small,
      color: colors.soft,
    },
  ];
}

/** An item moved downward. */
export function lowered(item: Item, by: number, right = 0): Item {
  switch (item.kind) {
    case 'raster':
    case 'text':
      return { ...item, x: item.x + right, y: item.y + by };
    case 'stroke':
      return { ...item, lines: item.lines.map(line => moved(line, right, by)) };
    case 'fill':
      return { ...item, outline: moved(item.outline, right, by) };
  }
}

function defined({ width, height }: PictureOptions): { width?: number; height?: number } {
  return { ...(width === undefined ? {} : { width }), ...(height === undefined ? {} : { height }) };
}
