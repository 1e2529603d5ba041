import { clean } from '../terminal/words.ts';

/** A stranger's text in a line of Markdown: nothing of it becomes markup, a link, a mention or an image. */
export function md(text: string): string {
  return clean(text.replace(/\s+/g, ' ')).replace(/[\\`*_{}[\]<>#!|~&$@]/g, sign => `\\${sign}`);
}

/** A table; cells are Markdown already. */
export function mdTable(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)];
}
