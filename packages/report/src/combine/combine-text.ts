import type {
  Combination,
  CombineConflict,
  CombinedChange,
  CombineProof,
  CombineRemix,
} from '@kinprint/compare';
import { alignmentText } from '../terminal/compare-text.ts';
import { featureName } from '../terminal/feature-text.ts';
import { columns, paints, row, width, wrap, type Style } from '../terminal/layout.ts';
import { clean, num, plural, point, signed, size } from '../terminal/words.ts';

/** What the three were called. */
export interface CombineNames {
  readonly base: string;
  readonly a: string;
  readonly b: string;
}

/** Changes and proofs beyond this many are counted, not listed; the largest come first. */
const listed = 12;

/**
 * A combination of three meshes for a terminal.
 *
 * @param written the file that the result was written to; null when none was
 */
export function combineText(
  names: CombineNames,
  c: Combination,
  written: string | null,
  style: Style,
): string {
  const paint = paints(style);
  const word = standing(c);
  const painted = word === 'combined' ? paint.bold(paint.green(word)) : paint.bold(paint.magenta(word));
  const lines = wrap(`${painted}  ${paint.bold(clean(`${names.a} + ${names.b}`))}`, style.columns);
  lines.push(...wrap(meaning(c), style.columns - 2).map(line => `  ${line}`));
  const say = (label: string, text: string) => lines.push(row(label, text, style));
  say('base', `${clean(names.base)}: ${num(c.base.volume_mm3)} mm³, ${bodies(c.base.bodies)}`);
  say('A', remixText(names.a, c.a));
  say('B', remixText(names.b, c.b));
  if (c.changes.length > 0) {
    say('changes', `${plural(c.changes.length, 'place')} in the frame of the base, largest first`);
    for (const line of columns(c.changes.slice(0, listed).map(changeCells), [3])) lines.push(`    ${line}`);
    if (c.changes.length > listed)
      lines.push(`    … and ${c.changes.length - listed} more (all with --json)`);
  }
  for (const conflict of c.conflicts) lines.push(...conflictLines(conflict, c.changes, style));
  if (c.nearest !== null)
    say(
      'near',
      `${c.nearest.a} and ${c.nearest.b} come within ${num(c.nearest.gap_mm)} mm: see what is left between them`,
    );
  if (c.tessellated !== null) say('facets', facetsText(c.tessellated));
  if (c.result !== null) say('result', resultText(c, written));
  if (c.proof !== null) lines.push(...proofLines(c.proof, c.result, style));
  for (const note of c.notes)
    wrap(clean(note.text), style.columns - 8).forEach((line, k) =>
      lines.push(k === 0 ? `  ${paint.yellow('note')}  ${line}` : `        ${line}`),
    );
  if (c.result === null) lines.push('', ...wrap(toSettle(c), style.columns));
  return lines.join('\n');
}

/** `combined`, `conflict`, or `not proven`. */
function standing({ result, proof }: Combination): 'combined' | 'conflict' | 'not proven' {
  if (result === null) return 'conflict';
  return proof?.holds === true ? 'combined' : 'not proven';
}

/** The combination in one sentence. */
function meaning(c: Combination): string {
  if (c.result === null) {
    const open = c.conflicts.filter(conflict => conflict.take === null).length;
    return `${plural(open, 'place')} where both changed the base and not alike: nothing is made before a person chooses.`;
  }
  if (c.proof?.holds !== true) return 'The result does not show what it should; nothing was written.';
  switch (c.result.same_as) {
    case 'base':
      return 'The result is the base, triangle for triangle: no change goes into it.';
    case 'a':
    case 'b': {
      const [one, other] = c.result.same_as === 'a' ? ['A', 'B'] : ['B', 'A'];
      const rest = c[other === 'A' ? 'a' : 'b'];
      return `The result is ${one}, triangle for triangle: ${rest.added_mm3 + rest.removed_mm3 > 0 ? `no other change of ${other} goes into it` : `${other} leaves the base as it is`}.`;
    }
    case null: {
      const left = c.changes.filter(change => change.fate === 'left').length;
      const rest = left === 0 ? '' : `, but for ${plural(left, 'change')} left out as chosen`;
      return `The changes of both are in the result${rest}; nothing else differs from the base.`;
    }
  }
}

/** That much of what differs looks like facets, and what settles it. */
export function facetsText({
  places,
  within_mm,
  tolerance_mm,
}: NonNullable<Combination['tessellated']>): string {
  return (
    `${plural(places, 'place')} differ by no more than ${Number(within_mm.toPrecision(2))} mm anywhere, as surfaces do ` +
    `that were tessellated anew: --tolerance ${tolerance_mm} lets them count as the same (and leaves out any change that is no deeper)`
  );
}

function remixText(name: string, remix: CombineRemix): string {
  const changed =
    remix.added_mm3 + remix.removed_mm3 > 0
      ? `added ${num(remix.added_mm3)} mm³, removed ${num(remix.removed_mm3)} mm³`
      : 'the base unchanged';
  const motion = alignmentText(remix.alignment);
  return `${clean(name)}: ${changed}, ${bodies(remix.bodies)}${motion === '' ? '' : `; ${motion}`}`;
}

function bodies(count: number): string {
  return plural(count, 'body', 'bodies');
}

function changeCells(change: CombinedChange): string[] {
  return [
    change.id,
    change.kind,
    `at ${point(change.centroid_mm, 1)}`,
    `${num(change.volume_mm3)} mm³`,
    fateText(change),
  ];
}

function fateText({ fate, conflict, twin }: CombinedChange): string {
  switch (fate) {
    case 'taken':
      return conflict === null ? 'taken' : `taken (conflict ${conflict})`;
    case 'agreed':
      return `same as ${twin ?? ''}`;
    case 'left':
      return `left out (conflict ${conflict ?? ''})`;
    case 'open':
      return `conflict ${conflict ?? ''}`;
  }
}

const conflictWords = {
  'both-added': 'both added, and not the same',
  'both-removed': 'both removed, and not the same',
  'added-against-removed': 'one adds where the other removes',
} as const;

/**
 * One conflict, with what either side wanted, and how to settle it.
 *
 * @param key what goes before its number, where several meshes have conflicts
 */
export function conflictLines(
  conflict: CombineConflict,
  all: readonly CombinedChange[],
  style: Style,
  key = '',
): string[] {
  const { number, take } = conflict;
  const name = clean(`${key}${number}`);
  const say = take ?? `open: ${name}=a, ${name}=b, ${name}=both or ${name}=none`;
  return [...conflictStory(conflict, all, style, key), row('take', say, style, 4, 9)];
}

/** The same without how to settle it. */
export function conflictStory(
  conflict: CombineConflict,
  all: readonly CombinedChange[],
  style: Style,
  key = '',
): string[] {
  const { bounds_mm, changes, overlap_mm3, gap_mm, number } = conflict;
  const extent = bounds_mm.max.map((v, k) => v - bounds_mm.min[k as 0]) as [number, number, number];
  const say = (label: string, text: string) => row(label, text, style, 4, 9);
  const touch =
    overlap_mm3 > 0
      ? `they have ${num(overlap_mm3)} mm³ in common`
      : gap_mm < 0.005
        ? 'they touch'
        : `they come within ${num(gap_mm)} mm`;
  const told = (ids: readonly string[]) =>
    ids
      .flatMap(id => all.find(change => change.id === id) ?? [])
      .map(intention)
      .join('; ');
  const label = `conflict ${clean(`${key}${number}`)}`;
  return [
    row(
      label,
      `${conflictWords[conflict.kind]}, at ${point(conflict.at_mm, 1)}, ${size(extent, 1)} mm; ${touch}`,
      style,
      2,
      Math.max(11, width(label) + 1),
    ),
    say('A', told(changes.a)),
    say('B', told(changes.b)),
  ];
}

/** What a remix wanted here, in words: `removes 12.00 mm³, 2.00 mm deep, on bore ⌀3.20 (b2)`. */
function intention(change: CombinedChange): string {
  const verb = change.kind === 'added' ? 'adds' : 'removes';
  const far = change.kind === 'added' ? 'high' : 'deep';
  const near = change.nearest_feature;
  const where =
    near === null ? '' : `, ${near.distance_mm < 1e-6 ? 'on' : 'by'} ${featureName(near.feature)}`;
  return `${verb} ${num(change.volume_mm3)} mm³, ${num(change.depth_mm)} mm ${far}${where} (${change.id})`;
}

function resultText({ result, base }: Combination, written: string | null): string {
  if (result === null) return '';
  const parts = [
    `${num(result.volume_mm3)} mm³ (${signed(result.volume_mm3 - base.volume_mm3)})`,
    `${size(result.size_mm)} mm`,
    bodies(result.bodies),
    plural(result.triangles, 'triangle'),
    result.soundness.watertight ? 'watertight' : 'not watertight',
  ];
  const crossing = result.soundness.self_intersections ?? 0;
  if (crossing > 0) parts.push(plural(crossing, 'self-intersection'));
  return `${parts.join(', ')}${written === null ? '; not written' : `; in ${clean(written)}`}`;
}

/**
 * What was proven of a result, and what was not.
 *
 * @param label of the first line
 */
export function proofLines(
  proof: CombineProof,
  result: Combination['result'],
  style: Style,
  label = 'proof',
): string[] {
  const paint = paints(style);
  const lines: string[] = [];
  const wanted = proof.changes.filter(change => change.wanted);
  const there = wanted.filter(change => change.holds).length;
  const how = proof.by === 'faces' ? ', face by face' : '';
  lines.push(row(label, `${there} of ${plural(wanted.length, 'change')} found in the result${how}`, style));
  const told = [...wanted.filter(change => !change.holds), ...wanted.filter(change => change.holds)];
  const rows = told
    .slice(0, listed)
    .map(({ id, holds, present_mm3, volume_mm3 }) => [
      id,
      `${num(present_mm3)} of ${num(volume_mm3)} mm³`,
      holds ? 'present' : paint.red('missing'),
    ]);
  for (const line of columns(rows)) lines.push(`    ${line}`);
  if (told.length > listed) lines.push(`    … and ${told.length - listed} more (all with --json)`);
  for (const balance of proof.balances) {
    const told = [
      figures(balance.added_mm3, balance.expected_added_mm3, 'added'),
      figures(balance.removed_mm3, balance.expected_removed_mm3, 'removed'),
      balance.holds ? 'as it should' : paint.red('unexplained'),
    ].join(', ');
    const against = balance.against === 'base' ? 'base' : balance.against.toUpperCase();
    lines.push(row(`against ${against}`, told, style, 4, 13));
  }
  if (!proof.watertight) lines.push(`    ${paint.red('the result is not watertight')}`);
  if (!proof.crossings.holds)
    lines.push(...wrap(crossingText(proof.crossings, result), style.columns - 4).map(line => `    ${line}`));
  const { found, least, most, holds } = proof.bodies;
  if (!holds)
    lines.push(
      ...wrap(
        `the result is in ${bodies(found)}, ${least === most ? least : `${least} to ${most}`} would be right: what holds it together was removed, or something was added to what is gone`,
        style.columns - 4,
      ).map(line => `    ${line}`),
    );
  return lines;
}

/** That the result crosses itself, where, and what to do about it. */
function crossingText(
  { found, ...inputs }: CombineProof['crossings'],
  result: Combination['result'],
): string {
  const at = result?.soundness.places_mm?.self_intersections?.[0];
  const where = at === undefined ? '' : `, first at ${point(at, 2)}`;
  const flawed = (['base', 'a', 'b'] as const).flatMap(side => {
    const count = inputs[side] ?? 0;
    return count > 0
      ? `${side === 'base' ? 'the base' : side.toUpperCase()} (${plural(count, 'place')})`
      : [];
  });
  const remedy =
    flawed.length > 0
      ? `so does ${flawed.join(', ')}: let the program it comes from mend that (kinprint measure says where), and combine again`
      : 'give a larger --tolerance, or settle a conflict otherwise with --take';
  return `the surface of the result crosses itself in ${plural(found, 'place')}${where}; ${remedy}`;
}

function figures(found: number | null, expected: number, word: string): string {
  if (found === null) return `${word} unknown`;
  const [p, q] = [num(found), num(expected)];
  return p === q || Math.abs(found - expected) < 0.005
    ? `${word} ${q} mm³`
    : `${word} ${p} mm³ (expected ${q})`;
}

function toSettle({ conflicts }: Combination): string {
  const open = conflicts.filter(conflict => conflict.take === null);
  const each = open.map(({ number }) => `${number}=…`).join(',');
  return `To settle: --take a, b, both or none for all, or --take ${each} for each.`;
}
