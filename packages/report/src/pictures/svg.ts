import { element, xml } from '../lineage/xml.ts';
import { dashes } from './dashes.ts';
import { png } from './png.ts';
import { strokeWidth, textStrokes } from './sheet-pixels.ts';
import type { Item, Sheet } from './sheet.ts';

/**
 * A sheet as SVG 1.1: lines and letters as paths, so that no font is needed; shaded surfaces as pictures within. No
 * script, nothing from elsewhere.
 */
export function sheetSvg(sheet: Sheet): string {
  const { width, height } = sheet;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="title description">`,
    element('title', { id: 'title' }, xml(sheet.title)),
    element('desc', { id: 'description' }, xml(sheet.description)),
    element('rect', { width, height, fill: sheet.background }),
    ...sheet.items.map(markup),
    '</svg>\n',
  ].join('\n');
}

function markup(item: Item): string {
  switch (item.kind) {
    case 'raster': {
      const { x, y, pixels, title } = item;
      const href = `data:image/png;base64,${base64(png(pixels, 4))}`;
      return element(
        'image',
        { x, y, width: pixels.width, height: pixels.height, href },
        element('title', {}, xml(title)),
      );
    }
    case 'stroke': {
      const { dash } = item;
      const lines = dash === undefined ? item.lines : item.lines.flatMap(line => dashes(line, dash));
      return path(lines, item.color, item.width, item.opacity);
    }
    case 'fill':
      return element('path', {
        d: `${pathData([item.outline])}Z`,
        fill: item.color,
        'fill-opacity': fine(item.opacity),
      });
    case 'text':
      return element(
        'g',
        { role: 'img', 'aria-label': item.text },
        path(textStrokes(item), item.color, strokeWidth(item)),
      );
  }
}

function path(lines: readonly (readonly number[])[], color: string, width: number, opacity?: number): string {
  return element('path', {
    d: pathData(lines),
    fill: 'none',
    stroke: color,
    'stroke-width': fine(width),
    'stroke-opacity': fine(opacity),
    'stroke-linecap': 'round',
    'stroke-linejoin': 'round',
  });
}

function pathData(lines: readonly (readonly number[])[]): string {
  return lines
    .map(line => {
      const points: string[] = [];
      for (let k = 0; k < line.length; k += 2) points.push(`${fine(line[k])} ${fine(line[k + 1])}`);
      return `M${points.join('L')}`;
    })
    .join('');
}

/** Rounded to hundredths. */
function fine(value: number): string;
function fine(value: number | undefined): string | undefined;
function fine(value: number | undefined): string | undefined {
  if (value === undefined) return undefined;
  const text = String(Math.round(value * 100) / 100);
  return text === '-0' ? '0' : text;
}

function base64(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('base64');
}
