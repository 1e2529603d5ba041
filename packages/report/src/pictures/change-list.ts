import type { Comparison } from '@kinprint/compare';
import { alignmentText } from '../terminal/compare-text.ts';
import { num, plural, signed } from '../terminal/words.ts';
import { bubble, drawBubble } from './call-outs.ts';
import type { ChangedPlace } from './change-words.ts';
import { colors } from './colors.ts';
import { fitLettering, letteringWidth, wrapLettering } from './lettering.ts';
import { swatch } from './marks.ts';
import { closed, rectangle, type Item } from './sheet.ts';

export interface ChangeListAbout {
  readonly comparison: Comparison;
  readonly places: readonly ChangedPlace[];
  /** Regions that have no number. */
  readonly more: number;
  /** Whether the outline of BEFORE is drawn over AFTER. */
  readonly ghost: boolean;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly size: number;
}

/** What changed in words: the numbered places, the sums, and what the patterns mean. */
export function drawChangeList(about: ChangeListAbout): Item[] {
  const { comparison: c, places, more, x, y, width, height, size } = about;
  const items: Item[] = [
    { kind: 'text', x, y: y + 27, text: 'What changed', size: size + 1.5, color: colors.ink, weight: 'bold' },
  ];
  const keyHeight = 58;
  const end = y + height - keyHeight;
  let line = y + 58;
  const say = (text: string, color: string, left = x): void => {
    for (const part of wrapLettering(text, size, x + width - left, 3)) {
      if (line > end) return;
      items.push({ kind: 'text', x: left, y: line, text: part, size, color });
      line += 1.9 * size;
    }
  };
  const left = x + 2 * bubble + 14;
  for (const each of places) {
    if (line + 2.6 * size > end - 44) break;
    items.push(...drawBubble(each.number, each.kind, x + bubble, line + 0.35 * size));
    items.push({
      kind: 'text',
      x: left,
      y: line,
      text: fitLettering(each.what, size + 0.5, x + width - left),
      size: size + 0.5,
      color: colors.ink,
    });
    items.push({
      kind: 'text',
      x: left,
      y: line + 1.8 * size,
      text: fitLettering(each.amount, size - 0.5, x + width - left),
      size: size - 0.5,
      color: colors.soft,
    });
    line += 4.4 * size;
  }
  if (more > 0) say(`and ${plural(more, 'smaller place')}`, colors.soft, left);
  if (places.length === 0) say(nothingSaid(c), colors.ink);
  line += 0.6 * size;
  for (const text of sums(c)) say(text, colors.soft);
  items.push(...drawKey(about, x, y + height - keyHeight + 12));
  return items;
}

function nothingSaid({ verdict, volume, alignment }: Comparison): string {
  if (verdict === 'replaced') return 'Another shape. Both are shown at one scale.';
  if (volume.added_mm3 === null) return 'What material was added or removed cannot be said.';
  const motion = alignmentText(alignment);
  return `Nothing was added or removed.${motion === '' ? '' : ` Before was ${motion}.`}`;
}

/** The figures of the whole part that differ. */
function sums(c: Comparison): string[] {
  const { volume, mass, deviation, alignment, regions, thinnest_wall: wall, overhang } = c;
  const motion = alignmentText(alignment);
  const material = [
    (volume.added_mm3 ?? 0) > 0 ? `+${num(volume.added_mm3 ?? 0)} mm³` : '',
    (volume.removed_mm3 ?? 0) > 0 ? `−${num(volume.removed_mm3 ?? 0)} mm³` : '',
  ].filter(Boolean);
  const pair = (
    name: string,
    before: number | null,
    after: number | null,
    unit: string,
    digits: number,
  ): string => {
    if (before === null || after === null) return '';
    const [from, to] = [num(before, digits), num(after, digits)];
    return from === to ? '' : `${name}: ${from} → ${to} ${unit}`;
  };
  return [
    regions.length > 0 && motion !== '' ? `Before was ${motion}.` : '',
    material.length > 0 ? `Material: ${material.join(', ')}` : '',
    mass.change_g !== null && Math.abs(mass.change_g) >= 5e-3
      ? `Mass: ${signed(mass.change_g)} g if solid at ${num(mass.density_g_cm3)} g/cm³`
      : '',
    pair('Thinnest wall', wall.before_mm, wall.after_mm, 'mm', 2),
    pair('Overhang beyond 45°', overhang.before_mm2, overhang.after_mm2, 'mm²', 1),
    deviation !== null && deviation.max_mm > c.tolerance_mm
      ? `Deviation: at most ${num(deviation.max_mm + deviation.max_error_mm, 3)} mm`
      : '',
  ].filter(Boolean);
}

function drawKey({ comparison: c, ghost, width, size }: ChangeListAbout, x: number, y: number): Item[] {
  if (c.regions.length === 0 && !ghost) return [];
  const items: Item[] = [{ kind: 'stroke', color: colors.edge, width: 1, lines: [[x, y, x + width, y]] }];
  let at = x;
  const base = y + 28;
  for (const kind of ['added', 'removed'] as const) {
    if (!c.regions.some(region => region.kind === kind)) continue;
    const outline = rectangle(at, base - 14, 34, 18);
    items.push(
      {
        kind: 'raster',
        x: Math.round(at),
        y: Math.round(base - 14),
        pixels: { width: 34, height: 18, data: swatch(kind, 34, 18) },
        title: kind,
      },
      { kind: 'stroke', color: colors.ink, width: 0.8, lines: [closed(outline)] },
      { kind: 'text', x: at + 42, y: base, text: kind, size, color: colors.ink },
    );
    at += 42 + letteringWidth(kind, size) + 22;
  }
  if (ghost) {
    items.push(
      {
        kind: 'stroke',
        color: colors.soft,
        width: 1.2,
        dash: [5, 4],
        lines: [[at, base - 4.5, at + 32, base - 4.5]],
      },
      { kind: 'text', x: at + 40, y: base, text: 'outline before', size, color: colors.ink },
    );
  }
  return items;
}
