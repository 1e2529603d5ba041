import type { Alignment, BodyMatch, Comparison, FeatureChange, Region } from '@kinprint/compare';
import { columns, paints, row, type Style, wrap } from './layout.ts';
import { featureName } from './feature-text.ts';
import { flawList } from './soundness-text.ts';
import { clean, direction, num, plural, point, signed, size } from './words.ts';
import { meaning, paintVerdict } from './verdict-text.ts';

/** Regions beyond this many are counted, not listed; the largest come first. */
const listed = 12;

/** A comparison of two meshes for a terminal. */
export function compareText(title: string, c: Comparison, style: Style): string {
  const paint = paints(style);
  const lines = [`${paintVerdict(c.verdict, style)}  ${paint.bold(clean(title))}`];
  lines.push(...wrap(meaning(c), style.columns - 2).map(line => `  ${line}`));
  const say = (label: string, text: string) => lines.push(row(label, text, style));

  const motion = alignmentText(c.alignment);
  if (motion !== '') say('alignment', motion);
  if (c.deviation !== null && c.deviation.max_mm + c.deviation.max_error_mm > 0) {
    const d = c.deviation;
    say(
      'deviation',
      `at most ${fine(d.max_mm)} mm (proven to ${fine(d.max_error_mm)}) at ${point(d.max_at_mm)}; mean ${fine(d.mean_mm)}, RMS ${fine(d.rms_mm)}, 95 % of the surface within ${fine(Math.max(d.p95_mm, 1e-4))} mm`,
    );
  }
  // The size along the file's axes says nothing when the part was turned.
  if (c.alignment.rotation_deg < 1e-6)
    say(
      'size',
      pair(c.before.size_mm && size(c.before.size_mm), c.after.size_mm && size(c.after.size_mm), 'mm'),
    );
  say('volume', pair(mm(c.volume.before_mm3), mm(c.volume.after_mm3), 'mm³'));
  if (c.volume.added_mm3 !== null && c.volume.removed_mm3 !== null) {
    if (c.volume.added_mm3 + c.volume.removed_mm3 > 0)
      say(
        'material',
        `${paint.green(`added ${num(c.volume.added_mm3)}`)} mm³, ${paint.red(`removed ${num(c.volume.removed_mm3)}`)} mm³`,
      );
  }
  say('area', pair(num(c.area.before_mm2), num(c.area.after_mm2), 'mm²'));
  if (c.mass.change_g !== null && Math.abs(c.mass.change_g) >= 5e-4)
    say(
      'mass',
      `${signed(c.mass.change_g)} g if solid at ${num(c.mass.density_g_cm3)} g/cm³ (${num(c.mass.before_g ?? 0)} → ${num(c.mass.after_g ?? 0)} g)`,
    );
  say('thinnest', pair(mm(c.thinnest_wall.before_mm), mm(c.thinnest_wall.after_mm), 'mm'));
  say('overhang', pair(mm(c.overhang.before_mm2, 1), mm(c.overhang.after_mm2, 1), 'mm² beyond 45°'));
  say('mesh', meshText(c));
  for (const [when, s] of [
    ['before', c.soundness.before],
    ['after', c.soundness.after],
  ] as const) {
    const flaws = flawList(s);
    if (flaws.length > 0) say('flaws', `${when}: ${flaws.join(', ')}`);
  }
  if (c.regions.length > 0) {
    lines.push(
      row('regions', plural(c.regions.length, 'place') + ' where material changed, largest first', style),
    );
    for (const line of columns(c.regions.slice(0, listed).map(regionCells), [2, 3]))
      lines.push(`    ${line}`);
    if (c.regions.length > listed)
      lines.push(`    … and ${c.regions.length - listed} more (all with --json)`);
  }
  const featureLines = [
    ...c.features.changed.map(changeText),
    ...c.features.added.map(f => `appeared  ${featureName(f)} at ${point(f.at_mm, 1)}`),
    ...c.features.removed.map(f => `gone      ${featureName(f)} at ${point(f.at_mm, 1)}`),
  ];
  if (featureLines.length > 0) {
    lines.push(row('features', 'changed, appeared, gone (in the frame of the second mesh)', style));
    for (const text of featureLines.slice(0, 2 * listed))
      lines.push(...wrap(text, style.columns - 6).map((l, k) => `    ${k === 0 ? '' : '  '}${l}`));
    if (featureLines.length > 2 * listed)
      lines.push(`    … and ${featureLines.length - 2 * listed} more (all with --json)`);
  }
  if (c.bodies.length > 1) {
    lines.push(row('bodies', `${plural(c.bodies.length, 'body', 'bodies')}, matched one by one`, style));
    for (const line of columns(c.bodies.map(bodyCells))) lines.push(`    ${line}`);
  }
  for (const note of c.notes)
    lines.push(
      ...wrap(clean(note.text), style.columns - 8).map((l, k) =>
        k === 0 ? `  ${paint.yellow('note')}  ${l}` : `        ${l}`,
      ),
    );
  return lines.join('\n');
}

/** The motion in words: `moved (5.00, 0, 0) mm, turned 30.0° about z, mirrored, scaled by 1.12`. Empty for none. */
export function alignmentText(a: Alignment): string {
  if (a.kind === 'none') return 'none found: the shapes have too little in common';
  const parts = [
    a.translation_mm.some(v => Math.abs(v) > 1e-9) ? `moved by ${point(a.translation_mm)} mm` : '',
    a.rotation_deg > 1e-9
      ? `turned ${num(a.rotation_deg)}° about ${direction(a.rotation_axis ?? [0, 0, 1])}`
      : '',
    otherHandOrSize(a),
  ];
  return parts.filter(Boolean).join(', ');
}

/** What of a motion makes it another item: `mirrored, scaled by 1.12`. Empty for none. */
export function otherHandOrSize({ mirrored, scale }: Alignment): string {
  const [sx, sy, sz] = scale;
  const uniform = Math.abs(sx - sy) + Math.abs(sy - sz) < 1e-9 * Math.abs(sx);
  const scaled = uniform
    ? Math.abs(sx - 1) > 1e-12
      ? `scaled by ${scaleText(sx)}`
      : ''
    : `scaled by ${scale.map(scaleText).join(', ')} along x, y, z`;
  return [mirrored ? 'mirrored' : '', scaled].filter(Boolean).join(', ');
}

function scaleText(s: number): string {
  return String(Number(s.toFixed(6)));
}

/** What one feature change is: `bore ⌀3.20 → ⌀3.00 at (1.0, 2.0, 3.0)`. */
export function changeText(change: FeatureChange): string {
  const { before, after, what } = change;
  const at = `at ${point(after.at_mm, 1)}`;
  if (before.kind === 'plane' || after.kind === 'plane') {
    const shift = after.axis.reduce((sum, n, k) => sum + n * (after.at_mm[k as 0] - before.at_mm[k as 0]), 0);
    return `face toward ${direction(after.axis, 2)} moved ${num(Math.abs(shift))} mm ${shift < 0 ? 'inward' : 'outward'} ${at}`;
  }
  const parts: string[] = [];
  for (const key of what) {
    switch (key) {
      case 'diameter':
        parts.push(`⌀${num(before.diameter_mm)} → ⌀${num(after.diameter_mm)}`);
        break;
      case 'length':
        parts.push(`length ${num(before.length_mm)} → ${num(after.length_mm)}`);
        break;
      case 'through':
        parts.push(`${openness(before.through)} → ${openness(after.through)}`);
        break;
      case 'axis':
        parts.push(`axis ${direction(before.axis)} → ${direction(after.axis)}`);
        break;
      case 'place': {
        const moved = after.at_mm.map((v, k) => v - before.at_mm[k as 0]) as [number, number, number];
        parts.push(`moved ${num(Math.hypot(...moved))} mm by ${point(moved)}`);
        break;
      }
      default:
        parts.push(key);
    }
  }
  const name = what.includes('diameter') ? after.kind : featureName(after);
  return `${name} ${parts.join(', ')} ${at}`;
}

function openness(through: boolean | null): string {
  return through === null ? 'unknown' : through ? 'through' : 'blind';
}

function regionCells(r: Region): string[] {
  const near = r.nearest_feature;
  return [
    r.kind,
    `at ${point(r.centroid_mm, 1)}`,
    `${num(r.volume_mm3)} mm³`,
    `${num(r.depth_mm)} mm deep`,
    near === null ? '' : `${near.distance_mm < 1e-6 ? 'on' : 'by'} ${featureName(near.feature)}`,
  ];
}

function bodyCells(b: BodyMatch): string[] {
  const name = (k: number | null) => (k === null ? '—' : `#${k + 1}`);
  return [
    b.verdict,
    `${name(b.before)} → ${name(b.after)}`,
    b.alignment === null ? '' : alignmentText(b.alignment),
  ];
}

function meshText(c: Comparison): string {
  const same = c.before.triangles === c.after.triangles && c.before.shells === c.after.shells;
  const side = (s: Comparison['before']) =>
    `${plural(s.triangles, 'triangle')}, ${plural(s.shells, 'shell')}`;
  return same ? side(c.after) : `${side(c.before)} → ${side(c.after)}`;
}

function pair(before: string | null, after: string | null, unit: string): string {
  if (before === after) return before === null ? '—' : `${before} ${unit}, unchanged`;
  return `${before ?? '—'} → ${after ?? '—'} ${unit}`;
}

function mm(value: number | null, digits = 2): string | null {
  return value === null ? null : num(value, digits);
}

/** Micrometers are shown; what is below a tenth of one is rounding to anybody who holds the part. */
function fine(value: number): string {
  if (value === 0) return '0';
  return value < 1e-4 ? 'under 0.0001' : num(value, 3);
}
