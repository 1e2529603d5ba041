import { oneLine } from '../source/commit-object.ts';

/** What a README tells of a device. */
export interface ReadmeFacts {
  readonly title: string | null;
  /** The first paragraph of plain text. */
  readonly purpose: string | null;
  /** Paragraphs and list items that begin with a word of warning, as they are: they must not get lost. */
  readonly cautions: readonly string[];
}

const warning = /^(\W{0,4})(caution|warning|danger|attention|important safety|safety notice|do not)\b/i;

/** Reads a README in Markdown or plain text. Never throws; texts come out without controls. */
export function readReadme(text: string): ReadmeFacts {
  const blocks = withoutCode(withoutComments(text.replace(/\r\n?/g, '\n')))
    .split(/\n[ \t]*\n/)
    .map(block => block.trim())
    .filter(block => block !== '');
  let title: string | null = null;
  let purpose: string | null = null;
  const cautions: string[] = [];
  for (const block of blocks) {
    const lines = block.split('\n');
    const heading =
      /^#{1,6}\s+(.*?)\s*#*$/.exec(lines[0])?.[1] ?? (/^(=+|-+)$/.test(lines[1] ?? '') ? lines[0] : null);
    if (heading !== null) title ??= plain(heading, 200) || null;
    const body = lines.slice(heading === null ? 0 : /^(=+|-+)$/.test(lines[1] ?? '') ? 2 : 1);
    for (const piece of pieces(body)) {
      const words = plain(piece, 2000);
      if (words === '') continue;
      if (warning.test(words)) cautions.push(words);
      else if (purpose === null && /\p{L}{3}/u.test(words) && !/^[-*+|]|^\d+[.)]/.test(piece))
        purpose = words;
    }
  }
  return { title, purpose, cautions: cautions.slice(0, 100) };
}

/** Without `<!-- … -->`; one that does not end is text. */
function withoutComments(text: string): string {
  let out = '';
  for (let at = 0; ;) {
    const from = text.indexOf('<!--', at);
    const to = from < 0 ? -1 : text.indexOf('-->', from);
    if (to < 0) return out + text.slice(at);
    out += text.slice(at, from);
    at = to + 3;
  }
}

/** Without the lines between two fences. */
function withoutCode(text: string): string {
  let fence: string | null = null;
  return text
    .split('\n')
    .filter(line => {
      const mark = /^(```|~~~)/.exec(line)?.[0] ?? null;
      if (fence === null) fence = mark;
      else if (mark === fence) fence = null;
      else return false;
      return mark === null;
    })
    .join('\n');
}

/** A block's paragraph, and each item of a list by itself. */
function pieces(lines: readonly string[]): string[] {
  const found: string[] = [];
  for (const line of lines) {
    if (found.length === 0 || /^\s*([-*+]|\d+[.)])\s/.test(line)) found.push(line.trim());
    else found[found.length - 1] += ` ${line.trim()}`;
  }
  return found;
}

/** Without the marks of Markdown that stand around words, and without pictures. */
function plain(text: string, most: number): string {
  // Marks are looked for in as much as may be shown, since looking for their ends takes time for each.
  const words = text
    .slice(0, 4 * most)
    .replace(/!\[[^\]]*\]\([^)]*\)/g, '')
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/<[^>]{0,300}>/g, '')
    .replace(/(\*\*|__|`)/g, '')
    .replace(/^\s*([-*+>]|\d+[.)])\s+/, '');
  return oneLine(words, most).replace(/ {2,}/g, ' ');
}
