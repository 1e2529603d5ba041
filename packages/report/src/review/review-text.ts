import type { PartReview, Review, ReviewFinding, VariantReview } from '@kinprint/registry';
import { columns, paints, type Style, width, wrap } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';
import {
  againstWords,
  answerWords,
  aspectWords,
  decisionTitles,
  decisionWords,
  findingPlaceWords,
  interchangeSentence,
  interfaceWords,
  partFigures,
  partsTold,
  reprintWords,
  safetyWords,
  stepSentence,
  toldReasons,
} from './review-words.ts';

/** Reasons of one part that are written out; the rest is counted. */
const mostReasons = 4;
const mostLines = 8;

/** A review for a terminal: the answer first, then variant by variant, then all findings. */
export function reviewText(review: Review, style: Style): string {
  const paint = paints(style);
  const painted = { blocked: paint.red, ask: paint.yellow, clear: paint.green, nothing: paint.dim }[
    review.decision
  ];
  const lines = [
    paint.bold(clean(`${review.before.name} → ${review.after.name}`)),
    paint.dim(clean([review.registry, commitWords(review)].filter(Boolean).join(' · '))),
    '',
    ...wrap(`${decisionTitles[review.decision]}. ${decisionWords(review)}`, style.columns).map(line =>
      painted(line),
    ),
  ];
  for (const variant of review.variants) lines.push('', ...variantLines(variant, style));
  if (review.files.length > 0)
    lines.push(
      '',
      paint.bold('Other files'),
      ...cutList(
        review.files.map(({ path, change }) => `${change}  ${path}`),
        style,
      ),
    );
  if (review.findings.length > 0) {
    lines.push('', paint.bold(plural(review.findings.length, 'finding')));
    for (const finding of review.findings) lines.push(...findingLines(finding, style));
  }
  if (review.variants.length > 0)
    lines.push('', ...wrap(safetyWords, style.columns).map(line => paint.dim(line)));
  return lines.join('\n');
}

function commitWords({ commits }: Review): string {
  if (commits === null) return '';
  const since =
    commits.elsewhere === 0 ? '' : `, from before ${plural(commits.elsewhere, 'commit')} of the other branch`;
  return `${plural(commits.after, 'commit')}${since}`;
}

/** One changed variant: the answer, its parts, and what follows for whom. */
export function variantLines(variant: VariantReview, style: Style): string[] {
  const paint = paints(style);
  const { parts, interchange, hardware, reprint, signoffs, evidence, derivations, descendants } = variant;
  const lines = [
    paint.bold(clean(variant.address)),
    ...indented(`${variant.title}; ${againstWords(variant)}`, style, 2),
  ];
  if (parts.length > 0 && variant.against !== null) {
    lines.push(
      ...indented(`${interchangeSentence(variant)} ${capital(aspectWords(interchange))}.`, style, 2),
    );
    const step = stepSentence(variant.step, variant);
    if (step !== null) lines.push(...indented(step, style, 2));
  }
  const { told, asTheyWere } = partsTold(parts);
  const rows = told.map(part => [
    clean(part.id),
    part.verdict,
    part.was === null || part.verdict === 'added' || part.verdict === 'removed'
      ? ''
      : answerWords[part.interchange.answer],
    [...interfaceWords(part), partFigures(part)].filter(Boolean).join('; '),
  ]);
  if (rows.length > 0) {
    lines.push('');
    const head = columns(rows.map(cells => cells.slice(0, 3)));
    const left = Math.max(...head.map(width), 0) + 2;
    rows.forEach((cells, k) => {
      const more = cells[3] === '' ? [''] : wrap(clean(cells[3]), Math.max(20, style.columns - left - 2));
      more.forEach((text, j) =>
        lines.push(
          `  ${j === 0 ? head[k].padEnd(left + head[k].length - width(head[k])) : ' '.repeat(left)}${text}`.trimEnd(),
        ),
      );
    });
  }
  if (asTheyWere.length > 0)
    lines.push(
      ...(told.length === 0 ? [''] : []),
      ...indented(clean(`As before: ${asTheyWere.join(', ')}`), style, 2),
    );
  for (const part of parts) lines.push(...reasonLines(part, style));
  lines.push(
    ...section(
      'Buy otherwise',
      hardware.map(({ before, after }) => `${before ?? 'nothing'} → ${after ?? 'nothing'}`),
      style,
    ),
  );
  lines.push(...section('The manifest says', variant.manifest, style));
  const came = derivations.filter(({ change }) => change !== 'same');
  lines.push(
    ...section(
      'Where it comes from',
      came.map(
        ({ from, relation, changes, change }) =>
          `${change}: ${relation} of ${from}${changes === null ? '' : ` (${changes})`}`,
      ),
      style,
    ),
  );
  const work = reprint.filter(({ what }) => what !== 'keep');
  lines.push(
    ...section(
      `Who has ${variant.change === 'added' && variant.against !== null ? variant.against.address : 'it'} already`,
      work.length === 0 && reprint.length > 0
        ? ['Nothing to reprint.']
        : work.map(
            line => `${line.part}${line.quantity > 1 ? ` × ${line.quantity}` : ''}: ${reprintWords(line)}`,
          ),
      style,
    ),
  );
  lines.push(
    ...section(
      'Vetting',
      [
        ...signoffs.map(({ role, by, date, state }) => `sign-off ${state}: ${by}, ${role}, ${date}`),
        ...evidence.map(({ kind, by, date, state }) => `${kind} ${state}: ${by}, ${date}`),
      ],
      style,
    ),
  );
  lines.push(...section('Made from it', descendants, style));
  return lines;
}

function reasonLines({ id, interchange }: PartReview, style: Style): string[] {
  const told = toldReasons(interchange);
  if (told.length === 0) return [];
  const paint = paints(style);
  const lines = ['', `  ${paint.bold(clean(id))}`];
  for (const { aspect, weight, text } of told.slice(0, mostReasons)) {
    const mark = weight === 'breaks' ? paint.red('breaks') : paint.yellow('ask');
    lines.push(...indented(`${mark} ${aspect}: ${clean(text)}`, style, 4));
  }
  if (told.length > mostReasons) lines.push(`    and ${told.length - mostReasons} more`);
  return lines;
}

/** A list under a title, within a variant; nothing where it is empty. */
export function section(title: string, items: readonly string[], style: Style): string[] {
  return items.length === 0 ? [] : ['', `  ${title}`, ...cutList(items, style)];
}

function cutList(items: readonly string[], style: Style): string[] {
  return [
    ...items.slice(0, mostLines).flatMap(item => indented(clean(item), style, 4)),
    ...(items.length > mostLines ? [`    and ${items.length - mostLines} more (--json has all)`] : []),
  ];
}

export function findingLines(finding: ReviewFinding, style: Style): string[] {
  const paint = paints(style);
  const { severity, code, blocks, variant, part, text, remedy } = finding;
  const painted = { error: paint.red, ask: paint.yellow, warning: paint.yellow, note: paint.cyan }[severity];
  const about = [variant, part].filter(name => name !== null).join(' ');
  const place = findingPlaceWords(finding);
  return [
    `  ${painted(severity)}  ${clean(code)}${blocks ? paint.bold('  blocks') : ''}`,
    ...(about === '' ? [] : indented(clean(about), style, 4)),
    ...(place === null ? [] : indented(clean(place), style, 4).map(line => paint.dim(line))),
    ...indented(clean(text), style, 4),
    ...indented(clean(remedy), style, 4).map(line => paint.dim(line)),
  ];
}

export function indented(text: string, style: Style, by: number): string[] {
  return wrap(text, style.columns - by).map(line => ' '.repeat(by) + line);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
