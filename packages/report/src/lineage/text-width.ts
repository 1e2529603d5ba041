import { clean } from '../terminal/words.ts';

/**
 * Widths in em, those of DejaVu Sans as a browser measures them: a wide sans-serif face. Whoever opens the drawing has
 * fonts that we cannot ask, and text must stay within its card; room for a wide face does for the others too (common
 * practice, no source).
 */
const widths: readonly (readonly [string, number])[] = [
  ["'ijlIJ", 0.3],
  [' \u00a0,./:;\\|f-·', 0.36],
  ['()[]t!r', 0.42],
  ['"*_`sz?–', 0.53],
  ['cLFkvxyP', 0.6],
  ['TYaoeESbdghnpqu$0123456789{}', 0.64],
  ['KAVBRXZC', 0.7],
  ['UHNDGOQ&', 0.79],
  ['wM#+<=>^~', 0.86],
  ['mW%@…—', 1],
];
/** Of everything else below U+1100, and from there on (a square for most). */
const [other, wide] = [0.95, 1.15];
/** Bold letters are so much wider, DejaVu Sans Bold as a browser measures it. */
const boldFactor = 1.13;
const monoWidth = 0.61;
const table = new Map(widths.flatMap(([chars, w]) => [...chars].map(c => [c, w] as const)));
const mark = /\p{M}/u;

export type Face = 'plain' | 'bold' | 'mono';

/** The width that the text takes in a wide face, in the unit of `size`. */
export function textWidth(text: string, size: number, face: Face = 'plain'): number {
  let em = 0;
  for (const c of text) {
    if (mark.test(c)) continue;
    const code = c.codePointAt(0) ?? 0;
    if (code >= 0x1100) em += wide;
    else if (face === 'mono') em += monoWidth;
    else em += (table.get(c) ?? other) * (face === 'bold' ? boldFactor : 1);
  }
  return em * size;
}

/** The text, made harmless, on one line no wider than `room`; what is cut off is told by `…`. */
export function fitLine(text: string, room: number, size: number, face: Face = 'plain'): string {
  const whole = clean(text);
  if (textWidth(whole, size, face) <= room) return whole;
  const chars = [...whole];
  let used = textWidth('…', size, face);
  let k = 0;
  for (; k < chars.length; k += 1) {
    used += textWidth(chars[k], size, face);
    if (used > room) break;
  }
  return `${chars.slice(0, k).join('').trimEnd()}…`;
}

/** The text in at most `most` lines no wider than `room`, broken at blanks; the last one ends in `…` when more follows. */
export function fitLines(
  text: string,
  room: number,
  size: number,
  most: number,
  face: Face = 'plain',
): string[] {
  const words = clean(text).split(' ').filter(Boolean);
  const lines: string[] = [];
  let line = '';
  for (let k = 0; k < words.length; k += 1) {
    const longer = line === '' ? words[k] : `${line} ${words[k]}`;
    if (textWidth(longer, size, face) <= room) {
      line = longer;
      continue;
    }
    if (lines.length === most - 1)
      return [...lines, fitLine([line, ...words.slice(k)].join(' ').trim(), room, size, face)];
    if (line !== '') lines.push(line);
    if (textWidth(words[k], size, face) <= room) {
      line = words[k];
      continue;
    }
    const [head, tail] = cutWord(words[k], room, size, face);
    words.splice(k + 1, 0, tail);
    if (line === '') lines.push(head);
    else words.splice(k + 1, 0, head);
    line = '';
  }
  return line === '' ? lines : [...lines, line];
}

function cutWord(word: string, room: number, size: number, face: Face): [string, string] {
  const chars = [...word];
  let used = 0;
  let k = 0;
  for (; k < chars.length - 1; k += 1) {
    used += textWidth(chars[k], size, face);
    if (used > room && k > 0) break;
  }
  return [chars.slice(0, k).join(''), chars.slice(k).join('')];
}
