import type { Format, Measurement } from '@kinprint/mesh';
import type { FileFigures } from '../figures.ts';
import { paints, row, type Style, wrap } from './layout.ts';
import { clean, direction, num, plural, point, size } from './words.ts';
import { planeTable, roundTable } from './feature-text.ts';
import { soundnessText } from './soundness-text.ts';

const formats: Record<Format, string> = {
  'stl-binary': 'binary STL',
  'stl-ascii': 'ASCII STL',
  '3mf': '3MF',
  obj: 'OBJ',
  'ply-ascii': 'ASCII PLY',
  'ply-binary': 'binary PLY',
};

/** Bores and pins beyond this many are counted, not listed. */
const listed = 24;
/** Objects of a file beyond this many are counted, not listed. */
const objectsListed = 12;
/** Of the planes the largest few say where the part stands. */
const planesListed = 6;

/** A measurement for a terminal; `title` heads it. */
export function measureText(title: string, m: Measurement, style: Style): string {
  const paint = paints(style);
  const lines = [paint.bold(clean(title))];
  const say = (label: string, text: string) => lines.push(row(label, text, style));
  const none = paint.dim('—');

  say(
    'file',
    `${formats[m.format]}, ${plural(m.triangles, 'triangle')}, ${plural(m.vertices, 'vertex', 'vertices')}; ${m.unit_assumed ? `no unit stated, read as ${m.unit}` : `unit ${m.unit}`}`,
  );
  say(
    'size',
    m.bounds_mm === null
      ? none
      : `${size(m.bounds_mm.size)} mm, from ${point(m.bounds_mm.min)} to ${point(m.bounds_mm.max)}`,
  );
  say('volume', `${m.volume_mm3 === null ? none : `${num(m.volume_mm3)} mm³`}, area ${num(m.area_mm2)} mm²`);
  if (m.centroid_mm !== null) say('centroid', point(m.centroid_mm));
  if (m.inertia_mm5 !== null) {
    const [x, y, z] = m.inertia_mm5;
    const most = Math.max(x[0], y[1], z[2]);
    say(
      'inertia',
      `xx\u00a0${exp(x[0])}, yy\u00a0${exp(y[1])}, zz\u00a0${exp(z[2])}, xy\u00a0${entry(x[1], most)}, yz\u00a0${entry(y[2], most)}, zx\u00a0${entry(x[2], most)} mm⁵ about the centroid, density 1`,
    );
  }
  if (m.principal !== null) {
    say(
      'principal',
      m.principal.moments_mm5
        .map(
          (moment, k) => `${exp(moment)} about ${direction(m.principal?.axes[k as 0 | 1 | 2] ?? [0, 0, 0])}`,
        )
        .join(', '),
    );
  }
  say('solid', soundnessText(m, style));
  const thinnest = m.thin_places[0];
  say(
    'thinnest',
    m.thinnest_wall_mm === null
      ? none
      : `${num(m.thinnest_wall_mm)} mm${thinnest === undefined ? '' : ` at ${point(thinnest.from_mm)}`}`,
  );
  say(
    'overhang',
    m.overhang_area_mm2 === null
      ? none
      : `${num(m.overhang_area_mm2, 1)} mm² leans beyond 45°; ${num(m.bed_contact_mm2 ?? 0, 1)} mm² lies on the bed (${direction(m.up)} up, as the file stands)`,
  );

  const rounds = m.features.filter(f => f.kind !== 'plane');
  const planes = m.features.filter(f => f.kind === 'plane');
  if (rounds.length + planes.length > 0) {
    say(
      'features',
      `${plural(rounds.filter(f => f.kind === 'bore').length, 'bore')}, ${plural(rounds.filter(f => f.kind === 'pin').length, 'pin')}, ${plural(planes.length, 'plane')}`,
    );
    if (rounds.length > 0) for (const line of roundTable(rounds.slice(0, listed))) lines.push(`    ${line}`);
    if (rounds.length > listed) lines.push(`    … and ${rounds.length - listed} more (all with --json)`);
    if (planes.length > 0)
      for (const line of planeTable(planes.slice(0, planesListed))) lines.push(`    ${line}`);
    if (planes.length > planesListed)
      lines.push(`    … and ${plural(planes.length - planesListed, 'smaller plane')} (all with --json)`);
  }
  for (const note of m.notes)
    lines.push(
      ...wrap(clean(note.text), style.columns - 8).map((l, k) =>
        k === 0 ? `  ${paint.yellow('note')}  ${l}` : `        ${l}`,
      ),
    );
  return lines.join('\n');
}

/** A figure of a tensor, nothing where it is rounding beside the largest. */
function entry(value: number, largest: number): string {
  return Math.abs(value) < 1e-9 * largest ? '0' : exp(value);
}

function exp(value: number): string {
  return value === 0 ? '0' : value.toPrecision(4).replace(/^-/, '−');
}

/** A whole file for a terminal: all of it, then object by object where it holds several. */
export function fileText(file: string, { whole, objects }: FileFigures, style: Style): string {
  if (objects.length === 0) return measureText(file, whole, style);
  const parts = objects
    .slice(0, objectsListed)
    .map((o, k) => measureText(`${file}, object ${k + 1}${o.name === null ? '' : `: ${o.name}`}`, o, style));
  const more = objects.length - objectsListed;
  if (more > 0) parts.push(`… and ${plural(more, 'more object')} (all with --json)`);
  return [measureText(`${file}, all ${objects.length} objects together`, whole, style), ...parts].join(
    '\n\n',
  );
}
