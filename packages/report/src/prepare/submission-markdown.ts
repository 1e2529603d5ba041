import type { Undrawn } from '../drawing/part-drawing.ts';
import type {
  PartReview,
  Preparation,
  PreparedParent,
  PreparedVariant,
  Review,
  VariantReview,
} from '@kinprint/registry';
import { md, mdTable } from '../markdown/md.ts';
import { partedFindings } from '../review/finding-words.ts';
import { findingsHeading, ownersHeading, reviewHeadings } from '../review/heading-words.ts';
import {
  answerBlock,
  block,
  fileBlock,
  findingBlock,
  partsBlock,
  type LinkedPicture,
} from '../review/review-markdown.ts';
import { interfaceStateWords, safetyWords } from '../review/review-words.ts';
import {
  againstWords,
  derivationLines,
  hardwareLines,
  ownersLines,
  vettingLines,
} from '../review/variant-words.ts';
import { num, plural } from '../terminal/words.ts';
import { baseWords, takingHeading, takingWords, unreadWords } from './prepare-words.ts';

/**
 * The text of a submission, in plain Markdown that any host shows: what it is and from what, what changed, what it fits,
 * what is open, and what only the contributor knows; in the words and the order of the review. What people wrote cannot
 * become markup.
 */
export function submissionMarkdown(
  preparation: Preparation,
  pictures: ReadonlyMap<PartReview, LinkedPicture | Undrawn> = new Map(),
): string {
  const { review, variants, base } = preparation;
  const { blocking, others } = partedFindings(review);
  const lines = findingBlock('##', reviewHeadings.blocking, blocking);
  for (const variant of review.variants) {
    const prepared = variants.find(({ address }) => address === variant.address) ?? null;
    lines.push(...variantBlock(variant, prepared, pictures));
    const unread = unreadWords(variant, preparation);
    if (unread !== null) lines.push('', md(unread));
  }
  if (review.variants.length === 0) lines.push('', '## No device changed');
  lines.push(
    ...fileBlock('##', review),
    '',
    `## ${findingsHeading(review)}`,
    '',
    checkedWords(review),
    ...findingBlock('##', findingsHeading(review), others).slice(2),
    ...boxes(variants),
    '',
    md(baseWords(base)),
  );
  if (review.variants.length > 0) lines.push('', safetyWords);
  return `${lines.join('\n').trimStart()}\n`;
}

function variantBlock(
  variant: VariantReview,
  prepared: PreparedVariant | null,
  pictures: ReadonlyMap<PartReview, LinkedPicture | Undrawn>,
): string[] {
  const { parts } = variant;
  const lines = ['', `## ${md(variant.title)}`, '', `${md(variant.address)}; ${md(againstWords(variant))}.`];
  const { summary = null } = prepared ?? {};
  if (summary !== null) lines.push('', md(summary));
  lines.push(
    ...answerBlock(variant),
    ...block(ownersHeading(variant), ownersLines(variant)),
    ...partsBlock(parts, pictures),
    ...interfaceBlock(parts),
  );
  if (prepared !== null) lines.push(...printBlock(prepared), ...block('To buy', prepared.hardware));
  lines.push(
    ...block(reviewHeadings.hardware, hardwareLines(variant)),
    ...block(reviewHeadings.manifest, variant.manifest),
    ...block(reviewHeadings.derivations, derivationLines(variant)),
    ...block(reviewHeadings.vetting, vettingLines(variant)),
    ...block(reviewHeadings.descendants, variant.descendants),
  );
  if (prepared !== null)
    lines.push(
      ...block('License and credit', [
        `License: ${prepared.license ?? 'none for the whole'}`,
        `Made by ${prepared.authors.length === 0 ? 'nobody named' : prepared.authors.join(', ')}`,
        ...prepared.parents.map(creditLine),
      ]),
    );
  return lines;
}

/** Title, author, license and what was changed: what the usual licenses ask for. */
function creditLine({ from, relation, title, license, authors, changes }: PreparedParent): string {
  const who = authors.length === 0 ? '' : `, by ${authors.join(', ')}`;
  const name = title === null ? 'not at hand' : `${title}${who}, ${license ?? 'no license stated'}`;
  return `${relation} of ${from}: ${name}. ${changes === null ? 'What was changed is not said yet.' : `Changes: ${changes}`}`;
}

function interfaceBlock(parts: readonly PartReview[]): string[] {
  const rows = parts.flatMap(({ id, interfaces }) =>
    interfaces.map(face => {
      const { before, after } = face.measured_mm;
      const size = after ?? before;
      return [
        md(id),
        md(face.id),
        face.kind,
        size === null ? '' : `${num(size)} mm`,
        face.mates === null ? '' : md(face.mates),
        interfaceStateWords(face),
      ];
    }),
  );
  if (rows.length === 0) return [];
  return [
    '',
    '**Interfaces**',
    '',
    ...mdTable(['part', 'interface', 'kind', 'measured', 'takes', 'state'], rows),
  ];
}

function printBlock({ parts }: PreparedVariant): string[] {
  if (parts.length === 0) return [];
  return [
    '',
    '**To print**',
    '',
    ...mdTable(
      ['part', 'pieces', 'material', 'size in mm', takingHeading.toLowerCase()],
      parts.map(({ id, quantity, material, size_mm, ...taking }) => [
        md(id),
        String(quantity),
        material === null ? 'not said' : md(material),
        size_mm === null ? 'not to be measured' : size_mm.map(v => num(v, 1)).join(' × '),
        md(takingWords(taking) ?? ''),
      ]),
    ),
  ];
}

function checkedWords({ counts }: Review): string {
  const open = [
    counts.errors > 0 ? plural(counts.errors, 'error') : '',
    counts.asks > 0 ? plural(counts.asks, 'question') : '',
    counts.warnings > 0 ? plural(counts.warnings, 'warning') : '',
    counts.notes > 0 ? plural(counts.notes, 'note') : '',
  ].filter(Boolean);
  const checked = 'Files, meshes, interfaces, printers, lineage, licenses and credit were checked';
  return `${checked}: ${open.length === 0 ? 'nothing is open' : `open are ${open.join(', ')}`}.`;
}

/** What no file tells; nobody ticks these but whoever sends it. */
function boxes(variants: readonly PreparedVariant[]): string[] {
  if (variants.length === 0) return [];
  return [
    '',
    '## To be filled in by whoever sends this',
    '',
    'Name nobody whom the device is for, and show no faces.',
    '',
    ...[
      'Printed on (printer, nozzle, layer height): …',
      'Material and color as bought: …',
      'Tried by (a role, no names) and for how long: …',
      'What I looked at after the trial (skin, edges, small parts, heat): …',
      'Why this change: …',
      'Everybody whose work is in it is named, and I may share what I added under the license above.',
      'A licensed clinician was asked about fit and use, or has still to be: …',
    ].map(text => `- [ ] ${text}`),
  ];
}
