import pc from 'picocolors';

/** How text is laid out: the columns there are, and whether colors may be used. */
export interface Style {
  readonly columns: number;
  readonly color: boolean;
}

/** Paints for words; plain when colors are off. Color never carries meaning alone: every painted word says it too. */
export function paints(style: Style): ReturnType<typeof pc.createColors> {
  return pc.createColors(style.color);
}

const escapes = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g');
const plain = /^[ -~]*$/;
const combining = /\p{M}/u;

/** Columns a text takes on screen: escape sequences take none, combining marks none, wide characters two. */
export function width(text: string): number {
  if (plain.test(text)) return text.length;
  let n = 0;
  for (const c of text.replace(escapes, '')) n += columnsOf(c);
  return n;
}

/** Columns of one character. Ranges of wide ones: Unicode Standard Annex 11, East Asian Width, from memory. */
function columnsOf(c: string): number {
  const code = c.codePointAt(0) ?? 0;
  if (code < 0x300) return 1;
  if (combining.test(c)) return 0;
  return wide.some(([from, to]) => code >= from && code <= to) ? 2 : 1;
}

const wide: readonly (readonly [number, number])[] = [
  [0x1100, 0x115f],
  [0x2e80, 0xa4cf],
  [0xac00, 0xd7a3],
  [0xf900, 0xfaff],
  [0xfe30, 0xfe6f],
  [0xff00, 0xff60],
  [0x1f300, 0x3fffd],
];

export function padEnd(text: string, columns: number): string {
  return text + ' '.repeat(Math.max(0, columns - width(text)));
}

export function padStart(text: string, columns: number): string {
  return ' '.repeat(Math.max(0, columns - width(text))) + text;
}

/** Breaks text at blanks so that no line is wider than `columns`; a word that is too long is cut. */
export function wrap(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const word of text.split(' ').flatMap(w => cut(w, columns))) {
    const wordWidth = width(word);
    if (used > 0 && used + 1 + wordWidth > columns) {
      lines.push(line.trimEnd());
      line = word;
      used = wordWidth;
    } else {
      line = used === 0 ? word : `${line} ${word}`;
      used += (used === 0 ? 0 : 1) + wordWidth;
    }
  }
  lines.push(line.trimEnd());
  return lines;
}

/** A word in pieces that fit; painted words (with escape sequences) are never cut. */
function cut(word: string, columns: number): string[] {
  if (width(word) <= columns || word.includes(String.fromCharCode(27))) return [word];
  const pieces: string[] = [];
  let rest = [...word];
  while (rest.length > 0) {
    const n = Math.max(1, charactersIn(rest, columns));
    pieces.push(rest.slice(0, n).join(''));
    rest = rest.slice(n);
  }
  return pieces;
}

/** How many of the characters fit from the first on. */
function charactersIn(chars: readonly string[], columns: number): number {
  let used = 0;
  const over = chars.findIndex(c => (used += width(c)) > columns);
  return over < 0 ? chars.length : over;
}

/** Shortens a path in the middle: what it starts with and the file's own name say most. */
export function shorten(text: string, columns: number): string {
  if (width(text) <= columns) return text;
  const keep = Math.max(1, columns - 1);
  const tail = Math.ceil(keep * 0.65);
  const chars = [...text];
  const head = chars.slice(0, charactersIn(chars, keep - tail)).join('');
  const back = [...chars].reverse();
  return `${head}…${back.slice(0, charactersIn(back, tail)).reverse().join('')}`;
}

/** `label      text`, the text wrapped under itself. */
export function row(label: string, text: string, style: Style, indent = 2, labelWidth = 11): string {
  const left = indent + labelWidth;
  const lines = wrap(text, Math.max(20, style.columns - left));
  const head = ' '.repeat(indent) + paints(style).dim(padEnd(label, labelWidth));
  return lines.map((line, k) => (k === 0 ? head + line : ' '.repeat(left) + line)).join('\n');
}

/** Lines of cells in columns, as wide as their widest cell; `right` names the columns set flush right. */
export function columns(
  rows: readonly (readonly string[])[],
  right: readonly number[] = [],
  gap = 2,
): string[] {
  const widths: number[] = [];
  for (const cells of rows) cells.forEach((cell, k) => (widths[k] = Math.max(widths[k] ?? 0, width(cell))));
  return rows.map(cells =>
    cells
      .map((cell, k) =>
        right.includes(k)
          ? padStart(cell, widths[k] ?? 0)
          : k === cells.length - 1
            ? cell
            : padEnd(cell, widths[k] ?? 0),
      )
      .join(' '.repeat(gap))
      .trimEnd(),
  );
}
