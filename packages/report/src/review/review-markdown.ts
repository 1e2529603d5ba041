import type { PartReview, Review, ReviewFinding, VariantReview } from '@kinprint/registry';
import type { Undrawn } from '../drawing/part-drawing.ts';
import { undrawnWords } from '../drawing/undrawn-words.ts';
import { md, mdTable } from '../markdown/md.ts';
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
import { variantRow, variantRowHeads } from './variant-row.ts';
import {
  againstWords,
  derivationLines,
  hardwareLines,
  nothingLookedAt,
  ownersLines,
  vettingLines,
} from './variant-words.ts';

/** A picture of a change that lies beside the text. */
export interface LinkedPicture {
  /** From the text's own folder, or an address; already fit for a link. */
  readonly link: string;
  /** What it shows, for who cannot see it. */
  readonly alt: string;
}

/** Host's comments are bounded (65 536 characters at the usual ones, from memory): long lists are cut, and say so. */
const mostFindings = 40;
const mostLines = 20;

/**
 * A review for a discussion, in plain Markdown that any host shows: the answer first, what stands in the way, then each
 * variant with its parts and pictures, then the other findings. What people wrote cannot become markup.
 */
export function reviewMarkdown(
  review: Review,
  pictures: ReadonlyMap<PartReview, LinkedPicture | Undrawn> = new Map(),
): string {
  const { before, after, registry, variants } = review;
  const { title, text } = decisionWords(review);
  const { blocking, others } = partedFindings(review);
  const lines = [
    `## ${md(`${before.name} → ${after.name}`)}`,
    '',
    `**${title}.** ${md(text)}`,
    '',
    md([registry, commitWords(review)].filter(Boolean).join(' · ')),
  ];
  if (variants.length > 1) lines.push('', ...overview(review));
  lines.push(...findingBlock('###', reviewHeadings.blocking, blocking));
  for (const variant of variants) lines.push(...variantBlock(variant, pictures));
  lines.push(...fileBlock('###', review), ...findingBlock('###', findingsHeading(review), others));
  if (variants.length > 0) lines.push('', safetyWords);
  return `${lines.join('\n')}\n`;
}

function overview(review: Review): string[] {
  return mdTable(
    Object.values(variantRowHeads).map(head => head.toLowerCase()),
    review.variants.map(variant => {
      const { address, what, aspects, changed, answer, inTheWay } = variantRow(variant, review);
      return [md(address), md(what), aspects, changed, answer, inTheWay === 0 ? '' : String(inTheWay)];
    }),
  );
}

function variantBlock(
  variant: VariantReview,
  pictures: ReadonlyMap<PartReview, LinkedPicture | Undrawn>,
): string[] {
  return [
    '',
    `### ${md(variant.title)}`,
    '',
    `${md(variant.address)}; ${md(againstWords(variant))}.`,
    ...answerBlock(variant),
    ...block(ownersHeading(variant), ownersLines(variant)),
    ...partsBlock(variant.parts, pictures),
    ...block(reviewHeadings.hardware, hardwareLines(variant)),
    ...block(reviewHeadings.manifest, variant.manifest),
    ...block(reviewHeadings.derivations, derivationLines(variant)),
    ...block(reviewHeadings.vetting, vettingLines(variant)),
    ...block(reviewHeadings.descendants, variant.descendants),
  ];
}

/** Whether old and new swap, why not, and what is to be done about it. */
export function answerBlock(variant: VariantReview): string[] {
  const answer = swapSentence(variant);
  const told = wholeReasons(variant.interchange);
  const next = [nothingLookedAt(variant), stepSentence(variant.step, variant)].filter(each => each !== null);
  return [
    ...(answer === null ? [] : ['', `**${md(answer)}** ${md(`(${aspectWords(variant.interchange)})`)}`]),
    ...(next.length === 0 ? [] : ['', next.join(' ')]),
    ...(told.length === 0 ? [] : ['', ...told.map(reasonLine)]),
  ];
}

/** A row for each part that is not as it was, the names of the others, and what is to be said of each with its picture. */
export function partsBlock(
  parts: readonly PartReview[],
  pictures: ReadonlyMap<PartReview, LinkedPicture | Undrawn>,
): string[] {
  if (parts.length === 0) return [];
  const { told } = partsTold(parts);
  const lines = ['', `**${reviewHeadings.parts}**`];
  if (told.length > 0)
    lines.push(
      '',
      ...mdTable(
        ['part', 'verdict', 'old and new', 'what changed'],
        told.map(part => [
          md(part.id),
          part.verdict,
          part.was === null || part.verdict === 'removed' ? '' : answerWords[part.interchange.answer],
          md(partChangeWords(part)),
        ]),
      ),
    );
  const asBefore = asBeforeWords(parts);
  if (asBefore !== null) lines.push('', `${md(asBefore)}.`);
  for (const part of parts) lines.push(...partBlock(part, pictures.get(part) ?? null));
  return lines;
}

function partBlock({ id, interchange }: PartReview, picture: LinkedPicture | Undrawn | null): string[] {
  const told = toldReasons(interchange);
  if (told.length === 0 && picture === null) return [];
  return [
    '',
    `#### ${md(id)}`,
    ...(picture === null ? [] : ['', pictureLine(picture)]),
    ...(told.length === 0 ? [] : ['', ...told.map(reasonLine)]),
  ];
}

function pictureLine(picture: LinkedPicture | Undrawn): string {
  return 'link' in picture ? `![${md(picture.alt)}](${picture.link})` : md(undrawnWords(picture));
}

function reasonLine(reason: ToldReason): string {
  return `- **${weightWords(reason)}:** ${md(reason.text)}`;
}

/** A list of texts under a bold title; nothing where it is empty. */
export function block(title: string, items: readonly string[]): string[] {
  return items.length === 0 ? [] : ['', `**${md(title)}**`, '', ...cutList(items.map(md))];
}

/** @param marks of the heading, as `###` */
export function fileBlock(marks: string, { files }: Pick<Review, 'files'>): string[] {
  if (files.length === 0) return [];
  const lines = files.map(({ path, change }) => `${change}: \`${code(path)}\``);
  return ['', `${marks} ${reviewHeadings.files}`, '', ...cutList(lines)];
}

export function findingBlock(marks: string, heading: string, findings: readonly ReviewFinding[]): string[] {
  if (findings.length === 0) return [];
  const lines = findings.slice(0, mostFindings).flatMap(findingLines);
  if (findings.length > mostFindings) lines.push(`- … and ${findings.length - mostFindings} more.`);
  return ['', `${marks} ${heading}`, '', ...lines];
}

/** @param items Markdown already */
function cutList(items: readonly string[]): string[] {
  const shown = items.slice(0, mostLines).map(item => `- ${item}`);
  return items.length > mostLines ? [...shown, `- … and ${items.length - mostLines} more.`] : shown;
}

function findingLines(finding: ReviewFinding): string[] {
  const { code: name, text, remedy } = finding;
  const about = findingAbout(finding);
  const place = findingPlaceWords(finding);
  return [
    `- **${findingWord(finding)}** \`${code(name)}\`${about === '' ? '' : `, ${md(about)}`}: ${md(text)}`,
    ...(remedy === '' ? [] : [`  - To do: ${md(remedy)}`]),
    ...(place === null ? [] : [`  - At: \`${code(place)}\``]),
  ];
}

/** Inside backticks. */
function code(text: string): string {
  return text.replace(/[`\s\p{C}]/gu, ' ');
}
