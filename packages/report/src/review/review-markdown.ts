import type { PartReview, Review, ReviewFinding, VariantReview } from '@kinprint/registry';
import { md, mdTable } from '../markdown/md.ts';
import { plural } from '../terminal/words.ts';
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
 * A review for a discussion, in plain Markdown that any host shows: the answer first, then each variant with its parts and
 * pictures, then the findings. What people wrote cannot become markup.
 */
export function reviewMarkdown(
  review: Review,
  pictures: ReadonlyMap<PartReview, LinkedPicture> = new Map(),
): string {
  const { before, after, registry, decision, variants, findings, files } = review;
  const lines = [
    `## ${md(`${before.name} → ${after.name}`)}`,
    '',
    `**${decisionTitles[decision]}.** ${decisionWords(review)}`,
    '',
    `${md(registry)}${review.commits === null ? '' : `, ${plural(review.commits.after, 'commit')}`}.`,
  ];
  if (variants.length > 1) lines.push('', ...overview(variants));
  for (const variant of variants) lines.push(...variantBlock(variant, pictures));
  if (files.length > 0)
    lines.push(
      '',
      '### Other files',
      '',
      ...cutList(files.map(({ path, change }) => `${change}: \`${code(path)}\``)),
    );
  if (findings.length > 0) {
    lines.push('', `### ${plural(findings.length, 'finding')}`, '');
    lines.push(...findings.slice(0, mostFindings).flatMap(findingLines));
    if (findings.length > mostFindings) lines.push(`- … and ${findings.length - mostFindings} more.`);
  }
  if (variants.length > 0) lines.push('', safetyWords);
  return `${lines.join('\n')}\n`;
}

function overview(variants: readonly VariantReview[]): string[] {
  return mdTable(
    ['variant', 'what', 'parts changed', 'old and new'],
    variants.map(variant => [
      md(variant.address),
      md(againstWords(variant)),
      `${variant.parts.filter(({ verdict }) => verdict !== 'identical').length} of ${variant.parts.length}`,
      variant.against === null ? '' : answerWords[variant.interchange.answer],
    ]),
  );
}

function variantBlock(variant: VariantReview, pictures: ReadonlyMap<PartReview, LinkedPicture>): string[] {
  const { parts, hardware, reprint, signoffs, evidence, derivations, descendants, interchange } = variant;
  const lines = ['', `### ${md(variant.address)}`, '', `${md(variant.title)}; ${md(againstWords(variant))}.`];
  if (parts.length > 0 && variant.against !== null) {
    const step = stepSentence(variant.step, variant);
    lines.push(
      '',
      `**${interchangeSentence(variant)}** (${aspectWords(interchange)})${step === null ? '' : ` ${step}`}`,
    );
  }
  lines.push(...partTable(parts));
  for (const part of parts) lines.push(...partBlock(part, pictures.get(part) ?? null));
  lines.push(
    ...block(
      'To buy otherwise',
      hardware.map(({ before, after }) => md(`${before ?? 'nothing'} → ${after ?? 'nothing'}`)),
    ),
  );
  lines.push(...block('The manifest says', variant.manifest.map(md)));
  lines.push(
    ...block(
      'Where it comes from',
      derivations
        .filter(({ change }) => change !== 'same')
        .map(({ from, relation, changes, change }) =>
          md(`${change}: ${relation} of ${from}${changes === null ? '' : ` (${changes})`}`),
        ),
    ),
  );
  const who = variant.change === 'added' && variant.against !== null ? variant.against.address : 'it';
  const work = reprint.filter(({ what }) => what !== 'keep');
  lines.push(
    ...block(
      `Who has ${md(who)} already`,
      work.map(
        line =>
          `${md(line.part)}${line.quantity > 1 ? ` × ${line.quantity}` : ''}: ${md(reprintWords(line))}`,
      ),
    ),
  );
  lines.push(
    ...block('Vetting', [
      ...signoffs.map(({ role, by, date, state }) => md(`sign-off ${state}: ${by}, ${role}, ${date}`)),
      ...evidence.map(({ kind, by, date, state }) => md(`${kind} ${state}: ${by}, ${date}`)),
    ]),
  );
  lines.push(...block('Made from it', descendants.map(md)));
  return lines;
}

/** A row for each part that is not as it was; of the others their names. */
export function partTable(parts: readonly PartReview[]): string[] {
  const { told, asTheyWere } = partsTold(parts);
  const lines: string[] = [];
  if (told.length > 0)
    lines.push(
      '',
      ...mdTable(
        ['part', 'verdict', 'old and new', 'what changed'],
        told.map(part => [
          md(part.id),
          part.verdict,
          part.was === null || part.verdict === 'removed' ? '' : answerWords[part.interchange.answer],
          md([...interfaceWords(part), partFigures(part)].filter(Boolean).join('; ')),
        ]),
      ),
    );
  if (asTheyWere.length > 0) lines.push('', `As before: ${asTheyWere.map(md).join(', ')}.`);
  return lines;
}

/** What is to be said of a part, with its picture. */
export function partBlock({ id, interchange }: PartReview, picture: LinkedPicture | null): string[] {
  const told = toldReasons(interchange);
  if (told.length === 0 && picture === null) return [];
  return [
    '',
    `#### ${md(id)}`,
    '',
    ...(picture === null ? [] : [`![${md(picture.alt)}](${picture.link})`, '']),
    ...told.map(
      ({ aspect, weight, text }) => `- **${weight === 'breaks' ? 'breaks' : 'ask'}** ${aspect}: ${md(text)}`,
    ),
  ];
}

/** A list under a bold title; items are Markdown already. */
export function block(title: string, items: readonly string[]): string[] {
  return items.length === 0 ? [] : ['', `**${title}**`, '', ...cutList(items)];
}

function cutList(items: readonly string[]): string[] {
  const shown = items.slice(0, mostLines).map(item => `- ${item}`);
  return items.length > mostLines ? [...shown, `- … and ${items.length - mostLines} more.`] : shown;
}

export function findingLines(finding: ReviewFinding): string[] {
  const { severity, code: name, blocks, variant, part, text, remedy } = finding;
  const about = [variant, part].filter(each => each !== null).join(' ');
  const place = findingPlaceWords(finding);
  return [
    `- **${severity}** \`${code(name)}\`${blocks ? ' (blocks)' : ''}${about === '' ? '' : `, ${md(about)}`}: ${md(text)}`,
    `  - To do: ${md(remedy)}`,
    ...(place === null ? [] : [`  - At: \`${code(place)}\``]),
  ];
}

/** Inside backticks. */
function code(text: string): string {
  return text.replace(/[`\s\p{C}]/gu, ' ');
}
