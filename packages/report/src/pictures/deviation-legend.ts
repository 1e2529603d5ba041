import { colors } from './colors.ts';
import { deviationColor } from './deviation-map.ts';
import { letteringWidth } from './lettering.ts';
import { closed, rectangle, type Item } from './sheet.ts';

/** The scale of the deviation colors, from −limit to +limit, with the values of the contour lines. */
export function drawDeviationLegend(
  limit_mm: number,
  x: number,
  y: number,
  width: number,
  size: number,
): Item[] {
  const height = 9;
  const steps = Math.max(2, Math.min(96, Math.floor(width / 3)));
  const label = 'mm';
  const bar = width - letteringWidth(label, size) - 10;
  const items: Item[] = [];
  for (let k = 0; k < steps; k++) {
    const [r, g, b] = deviationColor(limit_mm * (-1 + (2 * k + 1) / steps), limit_mm);
    const color = `#${[r, g, b].map(v => v.toString(16).padStart(2, '0')).join('')}`;
    // Each a little over the next, so that no seam shows.
    const from = x + (k * bar) / steps;
    const to = Math.min(x + bar, x + ((k + 1) * bar) / steps + 0.5);
    items.push({ kind: 'fill', color, outline: rectangle(from, y, to - from, height) });
  }
  items.push({
    kind: 'stroke',
    color: colors.ink,
    width: 0.8,
    lines: [closed(rectangle(x, y, bar, height))],
  });
  for (const share of [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1]) {
    const at = x + ((share + 1) / 2) * bar;
    items.push({ kind: 'stroke', color: colors.ink, width: 0.8, lines: [[at, y, at, y + height + 3]] });
    if (share % 0.5 !== 0) continue;
    const value = Number((share * limit_mm).toPrecision(4));
    const text = value === 0 ? '0' : `${value > 0 ? '+' : '−'}${Math.abs(value)}`;
    const half = letteringWidth(text, size) / 2;
    const left = share === -1 ? x : share === 1 ? x + bar - 2 * half : at - half;
    items.push({ kind: 'text', x: left, y: y + height + 7 + size, text, size, color: colors.ink });
  }
  items.push({ kind: 'text', x: x + bar + 10, y: y + height, text: label, size, color: colors.ink });
  return items;
}
