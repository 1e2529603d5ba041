import { colors } from './colors.ts';
import { letteringWidth } from './lettering.ts';
import { circle, closed, type Item } from './sheet.ts';

/** A numbered mark, and what it points to within its panel. */
export interface CallOut {
  readonly number: number;
  readonly kind: 'added' | 'removed';
  readonly x: number;
  readonly y: number;
}

export const bubble = 12;

/**
 * Numbers in two columns beside the part, each with a line to its place that ends in a dot (as leader lines of ISO 128
 * end within an outline). In each column they keep the order of their places, so that no two lines cross.
 */
export function drawCallOuts(
  callOuts: readonly CallOut[],
  width: number,
  top: number,
  bottom: number,
): Item[] {
  const middle = width / 2;
  const items: Item[] = [];
  for (const [x, members] of [
    [bubble + 12, callOuts.filter(each => each.x < middle)],
    [width - bubble - 12, callOuts.filter(each => each.x >= middle)],
  ] as const) {
    const sorted = [...members].sort((a, b) => a.y - b.y || a.number - b.number);
    const levels = spread(
      sorted.map(({ y }) => y),
      2 * bubble + 6,
      top + bubble,
      bottom - bubble,
    );
    sorted.forEach((each, k) => {
      const y = levels[k];
      const [dx, dy] = [each.x - x, each.y - y];
      const length = Math.sqrt(dx * dx + dy * dy);
      const start = length > bubble ? bubble / length : 1;
      const leader = [x + dx * start, y + dy * start, each.x, each.y];
      items.push(
        { kind: 'stroke', color: colors.card, width: 3.4, opacity: 0.85, lines: [leader] },
        { kind: 'stroke', color: colors.ink, width: 1, lines: [leader] },
        { kind: 'fill', color: colors.card, outline: circle(each.x, each.y, 4) },
        { kind: 'fill', color: colors.ink, outline: circle(each.x, each.y, 2.8) },
        ...drawBubble(each.number, each.kind, x, y),
      );
    });
  }
  return items;
}

/** A number in a ring of its kind's color. */
export function drawBubble(number: number, kind: CallOut['kind'], x: number, y: number): Item[] {
  const text = String(number);
  const size = 10;
  return [
    { kind: 'fill', color: colors.card, outline: circle(x, y, bubble) },
    { kind: 'stroke', color: colors[kind], width: 2.6, lines: [closed(circle(x, y, bubble - 1.3))] },
    {
      kind: 'text',
      x: x - letteringWidth(text, size) / 2,
      y: y + size / 2,
      text,
      size,
      color: colors.ink,
      weight: 'bold',
    },
  ];
}

/** Values at least `least` apart, each as near to its own as that allows, from `low` to `high` where they fit. */
export function spread(values: readonly number[], least: number, low: number, high: number): number[] {
  const out = values.map(v => Math.min(Math.max(v, low), high));
  for (let k = 1; k < out.length; k++) out[k] = Math.max(out[k], out[k - 1] + least);
  const over = out.length > 0 ? out[out.length - 1] - high : 0;
  if (over > 0) {
    out[out.length - 1] -= over;
    for (let k = out.length - 2; k >= 0; k--) out[k] = Math.min(out[k], out[k + 1] - least);
  }
  return out;
}
