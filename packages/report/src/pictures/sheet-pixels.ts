import { rgb } from './colors.ts';
import { dashes } from './dashes.ts';
import { lettering, type Polyline } from './lettering.ts';
import type { Item, Sheet } from './sheet.ts';

/** A picture without transparency: R, G, B of each pixel, rows from above. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Draws a sheet. The same sheet gives the same bytes on every machine. */
export function sheetPixels(sheet: Sheet): Picture {
  const { width, height } = sheet;
  const data = new Uint8Array(3 * width * height);
  const [r, g, b] = rgb(sheet.background);
  for (let k = 0; k < data.length; k += 3) {
    data[k] = r;
    data[k + 1] = g;
    data[k + 2] = b;
  }
  const canvas: Canvas = { width, height, data, mask: new Float32Array(width * height) };
  for (const item of sheet.items) draw(canvas, item);
  return { width, height, data };
}

interface Canvas extends Picture {
  /** How much of each pixel the item being drawn covers; 0 between items. */
  readonly mask: Float32Array;
}

/** Part of the canvas: first column and row, and those after the last. */
type Box = readonly [number, number, number, number];

function draw(canvas: Canvas, item: Item): void {
  switch (item.kind) {
    case 'raster':
      return paste(canvas, item);
    case 'stroke': {
      const { dash } = item;
      const lines = dash === undefined ? item.lines : item.lines.flatMap(line => dashes(line, dash));
      return stroke(canvas, lines, item.width, item.color, item.opacity ?? 1);
    }
    case 'fill':
      return fill(canvas, item.outline, item.color, item.opacity ?? 1);
    case 'text':
      return stroke(canvas, textStrokes(item), strokeWidth(item), item.color, 1);
  }
}

/** The strokes of a text where it stands. */
export function textStrokes({
  x,
  y,
  text,
  size,
  along = [1, 0],
}: Extract<Item, { kind: 'text' }>): Polyline[] {
  const [c, s] = along;
  return lettering(text, size).strokes.map(line =>
    line.map((v, k) => (k % 2 === 0 ? x + c * v - s * line[k + 1] : y + s * line[k - 1] + c * v)),
  );
}

export function strokeWidth({ size, weight = 'plain' }: Extract<Item, { kind: 'text' }>): number {
  return Math.max(weight === 'bold' ? 1.5 : 1.05, size * (weight === 'bold' ? 0.155 : 0.11));
}

function paste(canvas: Canvas, { x: left, y: top, pixels }: Extract<Item, { kind: 'raster' }>): void {
  for (let y = 0; y < pixels.height; y++) {
    const to = top + y;
    if (to < 0 || to >= canvas.height) continue;
    for (let x = 0; x < pixels.width; x++) {
      if (left + x < 0 || left + x >= canvas.width) continue;
      const k = 4 * (y * pixels.width + x);
      const opacity = pixels.data[k + 3] / 255;
      if (opacity === 0) continue;
      const j = 3 * (to * canvas.width + left + x);
      for (let c = 0; c < 3; c++)
        canvas.data[j + c] = Math.round(canvas.data[j + c] * (1 - opacity) + pixels.data[k + c] * opacity);
    }
  }
}

/** Round pens: each pixel is covered by how far it reaches into the line, the most of all its pieces. */
function stroke(
  canvas: Canvas,
  lines: readonly Polyline[],
  width: number,
  color: string,
  opacity: number,
): void {
  const half = width / 2;
  let box: Box = [canvas.width, canvas.height, 0, 0];
  for (const line of lines) {
    for (let k = 0; k + 3 < line.length; k += 2)
      box = union(box, segment(canvas, line[k], line[k + 1], line[k + 2], line[k + 3], half));
  }
  blend(canvas, box, color, opacity);
}

function segment(canvas: Canvas, ax: number, ay: number, bx: number, by: number, half: number): Box {
  const { mask, width } = canvas;
  const reach = half + 0.5;
  const x0 = Math.max(0, Math.floor(Math.min(ax, bx) - reach));
  const y0 = Math.max(0, Math.floor(Math.min(ay, by) - reach));
  const x1 = Math.min(width, Math.ceil(Math.max(ax, bx) + reach));
  const y1 = Math.min(canvas.height, Math.ceil(Math.max(ay, by) + reach));
  const [dx, dy] = [bx - ax, by - ay];
  const lengthSq = dx * dx + dy * dy;
  // Lines thinner than a pixel are drawn a pixel wide and paler.
  const most = half < 0.5 ? 2 * half : 1;
  const radius = Math.max(half, 0.5);
  for (let y = y0; y < y1; y++) {
    for (let x = x0; x < x1; x++) {
      const [px, py] = [x + 0.5 - ax, y + 0.5 - ay];
      let t = lengthSq > 0 ? (px * dx + py * dy) / lengthSq : 0;
      t = t < 0 ? 0 : t > 1 ? 1 : t;
      const [ex, ey] = [px - t * dx, py - t * dy];
      const cover = radius + 0.5 - Math.sqrt(ex * ex + ey * ey);
      if (cover <= 0) continue;
      const value = (cover > 1 ? 1 : cover) * most;
      const k = y * width + x;
      if (value > mask[k]) mask[k] = value;
    }
  }
  return [x0, y0, x1, y1];
}

/** Rows of quarter pixels, exact along each: an outline may be concave; where it overlaps itself, even-odd. */
function fill(canvas: Canvas, outline: readonly number[], color: string, opacity: number): void {
  const whole = wholePixels(canvas, outline);
  if (whole !== null) {
    const [x0, y0, x1, y1] = whole;
    for (let y = y0; y < y1; y++) canvas.mask.fill(1, y * canvas.width + x0, y * canvas.width + x1);
    return blend(canvas, whole, color, opacity);
  }
  const rows = 4;
  const xs = outline.filter((_, k) => k % 2 === 0);
  const ys = outline.filter((_, k) => k % 2 === 1);
  const x0 = Math.max(0, Math.floor(Math.min(...xs)));
  const x1 = Math.min(canvas.width, Math.ceil(Math.max(...xs)));
  const y0 = Math.max(0, Math.floor(Math.min(...ys)));
  const y1 = Math.min(canvas.height, Math.ceil(Math.max(...ys)));
  for (let y = y0; y < y1; y++) {
    for (let r = 0; r < rows; r++) {
      const level = y + (r + 0.5) / rows;
      const cuts: number[] = [];
      for (let k = 0; k < xs.length; k++) {
        const n = (k + 1) % xs.length;
        if (ys[k] <= level === ys[n] <= level) continue;
        cuts.push(xs[k] + ((xs[n] - xs[k]) * (level - ys[k])) / (ys[n] - ys[k]));
      }
      cuts.sort((p, q) => p - q);
      for (let k = 0; k + 1 < cuts.length; k += 2) {
        const from = Math.max(cuts[k], x0);
        const to = Math.min(cuts[k + 1], x1);
        for (let x = Math.floor(from); x < to; x++) {
          const cover = Math.min(to, x + 1) - Math.max(from, x);
          canvas.mask[y * canvas.width + x] += cover / rows;
        }
      }
    }
  }
  blend(canvas, [x0, y0, x1, y1], color, opacity);
}

/** The box of an outline that is a rectangle of whole pixels; null of another one. */
function wholePixels(canvas: Canvas, p: readonly number[]): Box | null {
  const [x0, y0, x1, y1] = [p[0], p[1], p[4], p[5]];
  const corners = [x0, y0, x1, y0, x1, y1, x0, y1];
  if (p.length !== 8 || p.some((v, k) => v !== corners[k] || !Number.isInteger(v))) return null;
  if (!(x0 < x1 && y0 < y1)) return null;
  return [Math.max(0, x0), Math.max(0, y0), Math.min(canvas.width, x1), Math.min(canvas.height, y1)];
}

function blend({ data, mask, width }: Canvas, [x0, y0, x1, y1]: Box, color: string, opacity: number): void {
  const [r, g, b] = rgb(color);
  for (let y = y0; y < y1; y++) {
    for (let x = x0; x < x1; x++) {
      const k = y * width + x;
      if (mask[k] === 0) continue;
      const a = Math.min(1, mask[k]) * opacity;
      mask[k] = 0;
      data[3 * k] = Math.round(data[3 * k] * (1 - a) + r * a);
      data[3 * k + 1] = Math.round(data[3 * k + 1] * (1 - a) + g * a);
      data[3 * k + 2] = Math.round(data[3 * k + 2] * (1 - a) + b * a);
    }
  }
}

function union(a: Box, b: Box): Box {
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}
