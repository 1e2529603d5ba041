import { clean } from '../terminal/words.ts';
import { glyphOf, markOf } from './glyphs.ts';

/** Between letters, and the height of capitals, in the units of the glyphs. */
const gap = 1.65;
const capital = 7;

/** A line through points: x, y of each. */
export type Polyline = readonly number[];

export interface Lettering {
  readonly strokes: readonly Polyline[];
  readonly width: number;
}

/**
 * A text as strokes, its baseline beginning at 0, 0, y downward.
 *
 * @param size height of the capitals in px
 */
export function lettering(text: string, size: number): Lettering {
  const unit = size / capital;
  const strokes: Polyline[] = [];
  let x = 0;
  let last: { readonly at: number; readonly width: number; readonly tall: boolean } | null = null;
  for (const char of clean(text).normalize('NFD')) {
    const mark = markOf(char);
    if (mark !== null && last !== null) {
      const middle = last.at + last.width / 2;
      strokes.push(...polylines(mark, middle, last.tall && char !== '\u0327' ? 2 : 0, unit));
      continue;
    }
    const { width, path } = glyphOf(char);
    if (x > 0) x += gap;
    strokes.push(...polylines(path, x, 0, unit));
    last = { at: x, width, tall: /\p{Lu}/u.test(char) };
    x += width;
  }
  return { strokes, width: x * unit };
}

export function letteringWidth(text: string, size: number): number {
  return lettering(text, size).width;
}

/** The text on one line no wider than `room`; what is cut off is told by `…`. */
export function fitLettering(text: string, size: number, room: number): string {
  if (letteringWidth(text, size) <= room) return text;
  const chars = [...text];
  while (chars.length > 0 && letteringWidth(`${chars.join('')}…`, size) > room) chars.pop();
  return `${chars.join('').trimEnd()}…`;
}

/** The text in lines no wider than `room`, broken at blanks; the last of `most` ends in `…` when more follows. */
export function wrapLettering(text: string, size: number, room: number, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  const words = text.split(' ').filter(Boolean);
  for (const [k, word] of words.entries()) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line === '' || letteringWidth(longer, size) <= room) {
      line = longer;
      continue;
    }
    if (lines.length === most - 1)
      return [...lines, fitLettering([line, ...words.slice(k)].join(' '), size, room)];
    lines.push(line);
    line = word;
  }
  return line === '' ? lines : [...lines, fitLettering(line, size, room)];
}

/** Points of a curve, per quarter of an ellipse or cubic. */
const steps = 6;
/** How far the handles of a cubic reach that comes nearest to a quarter of a circle. */
const kappa = 0.5523;

function polylines(path: string, x: number, y: number, unit: number): Polyline[] {
  const out: number[][] = [];
  const tokens = path.match(/[MLCvh]|-?[\d.]+/g) ?? [];
  let command = 'M';
  let [cx, cy] = [0, 0];
  let k = 0;
  const number = (): number => Number(tokens[k++]);
  const add = (px: number, py: number): void => {
    out[out.length - 1].push((x + px) * unit, -(y + py) * unit);
  };
  const curve = (x1: number, y1: number, x2: number, y2: number, x3: number, y3: number): void => {
    for (let n = 1; n <= steps; n++) {
      const t = n / steps;
      const s = 1 - t;
      add(
        s * s * s * cx + 3 * s * s * t * x1 + 3 * s * t * t * x2 + t * t * t * x3,
        s * s * s * cy + 3 * s * s * t * y1 + 3 * s * t * t * y2 + t * t * t * y3,
      );
    }
    [cx, cy] = [x3, y3];
  };
  while (k < tokens.length) {
    if (/[MLCvh]/.test(tokens[k])) command = tokens[k++];
    switch (command) {
      case 'M':
        [cx, cy] = [number(), number()];
        out.push([]);
        add(cx, cy);
        command = 'L';
        break;
      case 'L':
        [cx, cy] = [number(), number()];
        add(cx, cy);
        break;
      case 'C':
        curve(number(), number(), number(), number(), number(), number());
        break;
      case 'v': {
        const [px, py] = [number(), number()];
        curve(cx, cy + kappa * (py - cy), px + (1 - kappa) * (cx - px), py, px, py);
        break;
      }
      case 'h': {
        const [px, py] = [number(), number()];
        curve(cx + kappa * (px - cx), cy, px, py + (1 - kappa) * (cy - py), px, py);
        break;
      }
    }
  }
  return out;
}
