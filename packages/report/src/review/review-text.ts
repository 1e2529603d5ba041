import type { PartReview, Review, ReviewFinding, VariantReview } from '@kinprint/registry';
import { columns, paints, type Style, width, wrap } from '../terminal/layout.ts';
import { clean } from '../terminal/words.ts';
import { commitWords, decisionWords } from './decision-words.ts';
import { findingAbout, findingPlaceWords, findingWord, partedFindings } from './finding-words.ts';
import { findingsHeading, ownersHeading, reviewHeadings } from './heading-words.ts';
import { asBeforeWords, partChangeWords, partsTold, safetyWords } from './review-words.ts';
import {
  answerWords,
  aspectWords,
  stepSentence,
  swapSentence,
  toldReasons,
  weightWords,
  wholeReasons,
  type ToldReason,
} from './swap-words.ts';
import { variantRow } from './variant-row.ts';
import {
  againstWords,
  derivationLines,
  hardwareLines,
  nothingLookedAt,
  ownersLines,
  vettingLines,
} from './variant-words.ts';

/** Reasons of one part that are written out; the rest is counted. */
const mostReasons = 4;
const mostLines = 8;

/** A review for a terminal: the answer first, what stands in the way, then variant by variant, then all other findings. */
export function reviewText(review: Review, style: Style): string {
  const paint = paints(style);
  const { title, text, tone } = decisionWords(review);
  const painted = { blocked: paint.red, ask: paint.yellow, clear: paint.green, nothing: paint.dim }[tone];
  const about = [review.registry, commitWords(review)].filter(Boolean).join(' · ');
  const lines = [
    ...wrap(clean(`${review.before.name} → ${review.after.name}`), style.columns).map(line =>
      paint.bold(line),
    ),
    ...wrap(clean(about), style.columns).map(line => paint.dim(line)),
    '',
    ...wrap(clean(`${title}. ${text}`), style.columns).map(line => painted(line)),
    ...overviewLines(review, style),
    ...findingBlock(reviewHeadings.blocking, partedFindings(review).blocking, style),
  ];
  for (const variant of review.variants) lines.push('', ...variantLines(variant, style));
  lines.push(...restLines(review, style));
  if (review.variants.length > 0)
    lines.push('', ...wrap(safetyWords, style.columns).map(line => paint.dim(line)));
  return lines.join('\n');
}

/** Each of several variants in a line; in two where the terminal is too narrow. */
function overviewLines(review: Review, style: Style): string[] {
  if (review.variants.length < 2) return [];
  const rows = review.variants.map(variant => {
    const { address, changed, answer, inTheWay } = variantRow(variant, review);
    return [
      clean(address),
      // The answer says it already.
      nothingLookedAt(variant) === null ? `${changed} parts changed` : '',
      answer,
      inTheWay === 0 ? '' : `${inTheWay} in the way`,
    ];
  });
  const lines = columns(rows).map(line => `  ${line}`);
  if (lines.every(line => width(line) <= style.columns)) return ['', ...lines];
  return [
    '',
    ...rows.flatMap(([address, ...told]) => [
      ...indented(address, style, 2),
      ...indented(told.filter(Boolean).join(', '), style, 4),
    ]),
  ];
}

/** What stands after the variants, but for the cautions. */
function restLines(review: Review, style: Style): string[] {
  return [
    ...fileLines(review, style),
    ...findingBlock(findingsHeading(review), partedFindings(review).others, style),
  ];
}

export function fileLines({ files }: Pick<Review, 'files'>, style: Style): string[] {
  if (files.length === 0) return [];
  const lines = files.map(({ path, change }) => `${change}  ${path}`);
  return ['', paints(style).bold(reviewHeadings.files), ...cutList(lines, style, 2)];
}

export function findingBlock(heading: string, findings: readonly ReviewFinding[], style: Style): string[] {
  if (findings.length === 0) return [];
  return ['', paints(style).bold(heading), ...findings.flatMap(each => findingLines(each, style))];
}

/** One changed variant: the answer, what follows for whom, its parts, and what else changed. */
export function variantLines(variant: VariantReview, style: Style): string[] {
  const paint = paints(style);
  const answer = swapSentence(variant);
  const step = stepSentence(variant.step, variant);
  const unseen = nothingLookedAt(variant);
  return [
    paint.bold(clean(variant.address)),
    ...indented(clean(`${variant.title}; ${againstWords(variant)}`), style, 2),
    ...(answer === null
      ? []
      : indented(clean(`${answer} ${capital(aspectWords(variant.interchange))}.`), style, 2)),
    ...(unseen === null ? [] : indented(unseen, style, 2)),
    ...(step === null ? [] : indented(step, style, 2)),
    ...reasonLines(wholeReasons(variant.interchange), style, 2),
    ...section(ownersHeading(variant), ownersLines(variant), style),
    ...partLines(variant.parts, style),
    ...section(reviewHeadings.hardware, hardwareLines(variant), style),
    ...section(reviewHeadings.manifest, variant.manifest, style),
    ...section(reviewHeadings.derivations, derivationLines(variant), style),
    ...section(reviewHeadings.vetting, vettingLines(variant), style),
    ...section(reviewHeadings.descendants, variant.descendants, style),
  ];
}

/** A row for each part that is not as it was, the names of the others, then reasons part by part. */
function partLines(parts: readonly PartReview[], style: Style): string[] {
  if (parts.length === 0) return [];
  const paint = paints(style);
  const lines = ['', `  ${reviewHeadings.parts}`];
  const rows = partsTold(parts).told.map(part => [
    clean(part.id),
    part.verdict,
    part.was === null || part.verdict === 'added' || part.verdict === 'removed'
      ? ''
      : answerWords[part.interchange.answer],
    clean(partChangeWords(part)),
  ]);
  const head = columns(rows.map(cells => cells.slice(0, 3)));
  const left = Math.max(0, ...head.map(width)) + 2;
  rows.forEach((cells, k) => {
    const more = cells[3] === '' ? [''] : wrap(cells[3], Math.max(20, style.columns - left - 4));
    more.forEach((text, j) =>
      lines.push(
        `    ${j === 0 ? head[k].padEnd(left + head[k].length - width(head[k])) : ' '.repeat(left)}${text}`.trimEnd(),
      ),
    );
  });
  const asBefore = asBeforeWords(parts);
  if (asBefore !== null) lines.push(...indented(clean(asBefore), style, 4));
  for (const { id, interchange } of parts) {
    const told = toldReasons(interchange);
    if (told.length > 0) lines.push('', `    ${paint.bold(clean(id))}`, ...reasonLines(told, style, 6));
  }
  return lines;
}

function reasonLines(reasons: readonly ToldReason[], style: Style, by: number): string[] {
  const paint = paints(style);
  const lines = reasons.slice(0, mostReasons).flatMap(each => {
    const [mark, ...words] = `${weightWords(each)}: ${clean(each.text)}`.split(' ');
    const painted = each.weight === 'breaks' ? paint.red(mark) : paint.yellow(mark);
    return indented([painted, ...words].join(' '), style, by);
  });
  if (reasons.length > mostReasons) lines.push(`${' '.repeat(by)}and ${reasons.length - mostReasons} more`);
  return lines;
}

/** A list under a title, within a variant; nothing where it is empty. */
export function section(title: string, items: readonly string[], style: Style): string[] {
  return items.length === 0 ? [] : ['', ...indented(clean(title), style, 2), ...cutList(items, style, 4)];
}

function cutList(items: readonly string[], style: Style, by: number): string[] {
  return [
    ...items.slice(0, mostLines).flatMap(item => indented(clean(item), style, by)),
    ...(items.length > mostLines
      ? [`${' '.repeat(by)}and ${items.length - mostLines} more (--json has all)`]
      : []),
  ];
}

function findingLines(finding: ReviewFinding, style: Style): string[] {
  const paint = paints(style);
  const { severity, code, text, remedy } = finding;
  const painted = { error: paint.red, ask: paint.yellow, warning: paint.yellow, note: paint.cyan }[severity];
  const about = findingAbout(finding);
  const place = findingPlaceWords(finding);
  return [
    `  ${painted(findingWord(finding))}  ${clean(code)}`,
    ...(about === '' ? [] : indented(clean(about), style, 4)),
    ...(place === null ? [] : indented(clean(place), style, 4).map(line => paint.dim(line))),
    ...indented(clean(text), style, 4),
    ...(remedy === '' ? [] : indented(clean(`To do: ${remedy}`), style, 4).map(line => paint.dim(line))),
  ];
}

export function indented(text: string, style: Style, by: number): string[] {
  return wrap(text, style.columns - by).map(line => ' '.repeat(by) + line);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
