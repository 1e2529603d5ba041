import { element, xml } from '../lineage/xml.ts';

export interface Column {
  readonly head: string;
  /** Figures stand at the right. */
  readonly figures?: boolean;
}

/**
 * A table of texts; the first cell of a row is its head. Narrow pages show the cells of wide tables one below the other.
 */
export function table(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  name: string,
): string {
  const look = (k: number): { class?: string } => (columns[k].figures === true ? { class: 'n' } : {});
  const heads = columns.map(({ head }, k) => element('th', { scope: 'col', ...look(k) }, xml(head))).join('');
  const lines = rows.map(cells =>
    element(
      'tr',
      {},
      cells
        .map((cell, k) => element(k === 0 ? 'th' : 'td', k === 0 ? { scope: 'row' } : look(k), xml(cell)))
        .join(''),
    ),
  );
  return element(
    'div',
    { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': name },
    element(
      'table',
      { class: columns.length > 3 ? 'rows stack' : 'rows' },
      `<thead><tr>${heads}</tr></thead>\n<tbody>\n${lines.join('\n')}\n</tbody>`,
    ),
  );
}
