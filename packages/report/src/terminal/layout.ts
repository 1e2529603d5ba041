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

/** Columns a text takes on screen: escape sequences take none, combining marks none, wide characters two. */
export function width(text: string): number {
  let n = 0;
  for (const c of text.replace(new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g'), '')) {
    if (/\p{M}/u.test(c)) continue;
    const code = c.codePointAt(0) ?? 0;
    n +=
      (code >= 0x1100 && code <= 0x115f) ||
      (code >= 0x2e80 && code <= 0xa4cf) ||
      (code >= 0xac00 && code <= 0xd7a3) ||
      (code >= 0xf900 && code <= 0xfaff) ||
      (code >= 0xfe30 && code <= 0xfe6f) ||
      (code >= 0xff00 && code <= 0xff60) ||
      code >= 0x1f300
        ? 2
        : 1;
  }
  return n;
}

export function padEnd(text: string, columns: number): string {
  return text + ' '.repeat(Math.max(0, columns - width(text)));
}

export function padStart(text: string, columns: number): string {
  return ' '.repeat(Math.max(0, columns - width(text))) + text;
}

/** Breaks text at blanks so that no line is wider than `columns`; a word that is too long stands alone. */
export function wrap(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && width(line) + 1 + width(word) > columns) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines;
}

/** Shortens a path in the middle: what it starts with and the file's own name say most. */
export function shorten(text: string, columns: number): string {
  if (width(text) <= columns) return text;
  const keep = Math.max(1, columns - 1);
  const tail = Math.ceil(keep * 0.65);
  const chars = [...text];
  return `${chars.slice(0, keep - tail).join('')}…${chars.slice(chars.length - tail).join('')}`;
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
