import type { Vec3 } from '@kinprint/mesh';
import { deviationColor } from '../pictures/deviation-map.ts';
import { scaleBar } from '../pictures/scale-bar.ts';
import type { Axes } from './orbit.ts';
import { sideBySide } from './side-by-side.ts';
import type { Spot } from './spot.ts';
import type { Pane } from './stage.ts';
import type { Theme } from './theme.ts';
import { dot } from './vector.ts';

type Canvas = CanvasRenderingContext2D;

const font = (size: number, weight = 400): string => `${weight} ${size}px system-ui, sans-serif`;

/** A text on a paler ground, so that it can be read over a part. */
export function drawCaption(canvas: Canvas, theme: Theme, pane: Pane, text: string): void {
  canvas.font = font(13, 600);
  const width = canvas.measureText(text).width;
  canvas.globalAlpha = 0.85;
  canvas.fillStyle = theme.stage;
  canvas.fillRect(pane.x + 8, pane.y + 8, width + 12, 22);
  canvas.globalAlpha = 1;
  canvas.fillStyle = theme.ink;
  canvas.textBaseline = 'middle';
  canvas.textAlign = 'left';
  canvas.fillText(text, pane.x + 14, pane.y + 19.5);
}

export function drawScale(canvas: Canvas, theme: Theme, pane: Pane, pixelsPerMm: number): void {
  const { length_mm, length_px } = scaleBar(pixelsPerMm, Math.min(140, 0.3 * pane.width));
  const [x, y] = [pane.x + 14, pane.y + pane.height - 14];
  stroke(canvas, theme.ink, 1.5, [
    [x, y - 5, x, y],
    [x, y, x + length_px, y],
    [x + length_px, y - 5, x + length_px, y],
  ]);
  canvas.font = font(12);
  canvas.fillStyle = theme.ink;
  canvas.textAlign = 'left';
  canvas.textBaseline = 'alphabetic';
  canvas.fillText(`${length_mm} mm`, x, y - 9);
}

/** The axes of the file, as they lie in the picture. */
export function drawTriad(canvas: Canvas, theme: Theme, pane: Pane, { right, up, toward }: Axes): void {
  const [x, y] = [pane.x + pane.width - 40, pane.y + pane.height - 38];
  const axes: readonly (readonly [string, Vec3])[] = [
    ['x', [1, 0, 0]],
    ['y', [0, 1, 0]],
    ['z', [0, 0, 1]],
  ];
  canvas.font = font(11);
  canvas.textAlign = 'center';
  canvas.textBaseline = 'middle';
  // The one that leads away from the eye is drawn first.
  const drawn = [...axes].sort((a, b) => dot(a[1], toward) - dot(b[1], toward));
  for (const [, axis] of drawn) {
    const [dx, dy] = [dot(axis, right), -dot(axis, up)];
    stroke(canvas, theme.soft, 1.2, [[x, y, x + 20 * dx, y + 20 * dy]]);
  }
  canvas.fillStyle = theme.soft;
  const ends = drawn.reverse().flatMap(([name, axis]) => {
    const [dx, dy] = [dot(axis, right), -dot(axis, up)];
    return Math.hypot(dx, dy) > 0.25 ? [{ name, x: x + 28 * dx, y: y + 28 * dy }] : [];
  });
  // Two axes that lie over each other are named side by side.
  sideBySide(ends, 9).forEach((at, k) => canvas.fillText(ends[k].name, at.x, at.y));
}

/** A number on a disk (added) or a square (removed). */
export function drawBubble(
  canvas: Canvas,
  theme: Theme,
  { x, y }: Spot,
  text: string,
  look: { readonly kind: 'added' | 'removed'; readonly chosen: boolean },
): void {
  const r = look.chosen ? 13 : 10;
  canvas.beginPath();
  if (look.kind === 'added') canvas.arc(x, y, r, 0, 2 * Math.PI);
  else canvas.rect(x - r + 1, y - r + 1, 2 * r - 2, 2 * r - 2);
  canvas.fillStyle = look.chosen ? theme.ink : theme.card;
  canvas.fill();
  canvas.lineWidth = 1.3;
  canvas.strokeStyle = theme.ink;
  canvas.stroke();
  canvas.fillStyle = look.chosen ? theme.card : theme.ink;
  canvas.font = font(12, look.chosen ? 700 : 500);
  canvas.textAlign = 'center';
  canvas.textBaseline = 'middle';
  canvas.fillText(text, x, y + 0.5);
}

/** A ring around a place that was jumped to. */
export function drawRing(canvas: Canvas, theme: Theme, { x, y }: Spot): void {
  for (const [color, width] of [
    [theme.card, 5],
    [theme.ink, 2],
  ] as const) {
    canvas.beginPath();
    canvas.arc(x, y, 15, 0, 2 * Math.PI);
    canvas.lineWidth = width;
    canvas.strokeStyle = color;
    canvas.stroke();
  }
}

/** Points that were picked, and the line between two of them with its length. */
export function drawMeasure(canvas: Canvas, theme: Theme, spots: readonly Spot[], text: string): void {
  if (spots.length === 2) {
    const line = [[spots[0].x, spots[0].y, spots[1].x, spots[1].y]];
    stroke(canvas, theme.card, 4.5, line);
    stroke(canvas, theme.ink, 2, line);
  }
  for (const { x, y } of spots) {
    canvas.beginPath();
    canvas.arc(x, y, 4.5, 0, 2 * Math.PI);
    canvas.fillStyle = theme.card;
    canvas.fill();
    canvas.lineWidth = 2;
    canvas.strokeStyle = theme.ink;
    canvas.stroke();
  }
  if (spots.length < 2) return;
  const [x, y] = [(spots[0].x + spots[1].x) / 2, (spots[0].y + spots[1].y) / 2];
  canvas.font = font(13, 600);
  const width = canvas.measureText(text).width;
  canvas.fillStyle = theme.ink;
  canvas.fillRect(x - width / 2 - 7, y - 30, width + 14, 21);
  canvas.fillStyle = theme.card;
  canvas.textAlign = 'center';
  canvas.textBaseline = 'middle';
  canvas.fillText(text, x, y - 19);
}

/** Where Enter picks. */
export function drawCrosshair(canvas: Canvas, theme: Theme, pane: Pane): void {
  const [x, y] = [pane.x + pane.width / 2, pane.y + pane.height / 2];
  const lines = [
    [x - 11, y, x - 3, y],
    [x + 3, y, x + 11, y],
    [x, y - 11, x, y - 3],
    [x, y + 3, x, y + 11],
  ];
  stroke(canvas, theme.card, 4, lines);
  stroke(canvas, theme.ink, 1.5, lines);
}

/** The scale of the deviation colors; the marks in it are the contour lines. */
export function drawLegend(canvas: Canvas, theme: Theme, pane: Pane, limit_mm: number): void {
  const whole = Math.min(300, pane.width - 28);
  const unit = 28;
  const width = whole - unit;
  const [x, y] = [pane.x + pane.width - whole - 14, pane.y + 14];
  canvas.globalAlpha = 0.85;
  canvas.fillStyle = theme.stage;
  canvas.fillRect(x - 8, y - 6, whole + 16, 42);
  canvas.globalAlpha = 1;
  for (let k = 0; k < width; k++) {
    const [r, g, b] = deviationColor(limit_mm * (-1 + (2 * k + 1) / width), limit_mm);
    canvas.fillStyle = `rgb(${r},${g},${b})`;
    canvas.fillRect(x + k, y, 1.5, 9);
  }
  canvas.font = font(12);
  canvas.fillStyle = theme.ink;
  canvas.textBaseline = 'alphabetic';
  for (const share of [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1]) {
    const at = x + ((share + 1) / 2) * width;
    stroke(canvas, theme.ink, 1, [[at, y, at, y + 12]]);
    if (share % 0.5 !== 0) continue;
    canvas.textAlign = share === -1 ? 'left' : share === 1 ? 'right' : 'center';
    canvas.fillText(scaleText(share * limit_mm), at, y + 25);
  }
  canvas.textAlign = 'right';
  canvas.fillText('mm', x + whole, y + 9);
}

export function scaleText(value: number): string {
  const shown = Number(value.toPrecision(4));
  return shown === 0 ? '0' : `${shown > 0 ? '+' : '−'}${Math.abs(shown)}`;
}

export function drawDivider(canvas: Canvas, theme: Theme, pane: Pane): void {
  if (pane.x > 0) stroke(canvas, theme.edge, 1, [[pane.x - 0.5, pane.y, pane.x - 0.5, pane.y + pane.height]]);
  if (pane.y > 0) stroke(canvas, theme.edge, 1, [[pane.x, pane.y - 0.5, pane.x + pane.width, pane.y - 0.5]]);
}

function stroke(canvas: Canvas, color: string, width: number, lines: readonly number[][]): void {
  canvas.beginPath();
  for (const [x, y, u, v] of lines) {
    canvas.moveTo(x, y);
    canvas.lineTo(u, v);
  }
  canvas.lineWidth = width;
  canvas.strokeStyle = color;
  canvas.stroke();
}
