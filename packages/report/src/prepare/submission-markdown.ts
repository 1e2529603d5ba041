import type {
  PartReview,
  Preparation,
  PreparedParent,
  PreparedVariant,
  Review,
  VariantReview,
} from '@kinprint/registry';
import { md, mdTable } from '../markdown/md.ts';
import { block, findingLines, partBlock, partTable, type LinkedPicture } from '../review/review-markdown.ts';
import { againstWords, interchangeSentence, reprintWords, safetyWords } from '../review/review-words.ts';
import { num, plural } from '../terminal/words.ts';
import { baseWords } from './prepare-words.ts';

/** Long lists are cut: hosts bound a text (65 536 characters at the usual ones, from memory). */
const mostFindings = 40;

/**
 * The text of a submission, in plain Markdown that any host shows: what it is and from what, what changed, what it fits,
 * what is open, and what only the contributor knows. What people wrote cannot become markup.
 */
export function submissionMarkdown(
  preparation: Preparation,
  pictures: ReadonlyMap<PartReview, LinkedPicture> = new Map(),
): string {
  const { review, variants, base } = preparation;
  const lines: string[] = [];
  for (const variant of review.variants) {
    const prepared = variants.find(({ address }) => address === variant.address) ?? null;
    lines.push(...variantBlock(variant, prepared, pictures));
  }
  if (review.variants.length === 0) lines.push('## No device changed', '');
  lines.push(
    ...block(
      'Other files',
      review.files.map(({ path, change }) => `${change}: ${md(path)}`),
    ),
  );
  lines.push(...findingBlock(preparation), ...boxes(variants), '', md(baseWords(base)));
  if (review.variants.length > 0) lines.push('', safetyWords);
  return `${lines
    .join('\n')
    .replace(/^\n+/, '')
    .replace(/\n{3,}/g, '\n\n')}\n`;
}

function variantBlock(
  variant: VariantReview,
  prepared: PreparedVariant | null,
  pictures: ReadonlyMap<PartReview, LinkedPicture>,
): string[] {
  const { parts, hardware, reprint } = variant;
  const lines = ['', `## ${md(variant.title)}`, '', `\`${variant.address}\`, ${md(againstWords(variant))}.`];
  const { summary = null, parents = [] } = prepared ?? {};
  if (summary !== null) lines.push('', md(summary));
  lines.push(...block('Made from', parents.map(creditLine)));
  if (parts.length > 0 && variant.against !== null) lines.push('', md(interchangeSentence(variant)));
  if (parts.length > 0) lines.push('', '### What changed', ...partTable(parts));
  for (const part of parts) lines.push(...partBlock(part, pictures.get(part) ?? null));
  lines.push(...block('The manifest says', variant.manifest.map(md)), ...interfaceBlock(parts));
  if (prepared !== null) lines.push(...printBlock(prepared));
  lines.push(...block('To buy', (prepared?.hardware ?? []).map(md)));
  lines.push(
    ...block(
      'To buy otherwise than before',
      hardware.map(({ before, after }) => md(`${before ?? 'nothing'} → ${after ?? 'nothing'}`)),
    ),
  );
  const who = variant.change === 'added' && variant.against !== null ? variant.against.address : 'it';
  const work = reprint.filter(({ what }) => what !== 'keep');
  lines.push(
    ...block(
      `Who has built ${md(who)}`,
      work.length === 0 && reprint.length > 0
        ? ['Nothing to reprint.']
        : work.map(
            line =>
              `${md(line.part)}${line.quantity > 1 ? ` × ${line.quantity}` : ''}: ${md(reprintWords(line))}`,
          ),
    ),
  );
  if (prepared !== null)
    lines.push(
      ...block('License and credit', [
        `License: ${prepared.license === null ? 'none for the whole' : md(prepared.license)}`,
        `Made by ${prepared.authors.length === 0 ? 'nobody named' : md(prepared.authors.join(', '))}`,
      ]),
    );
  lines.push(
    ...block(
      'Sign-offs that lapse',
      variant.signoffs
        .filter(({ state }) => state === 'lapses')
        .map(({ role, by, date }) => md(`${by}, ${role}, ${date}`)),
    ),
  );
  return lines;
}

/** Title, author, license and what was changed: what the usual licenses ask for. */
function creditLine({ from, relation, title, license, authors, changes }: PreparedParent): string {
  const who = authors.length === 0 ? '' : `, by ${md(authors.join(', '))}`;
  const name = title === null ? 'not at hand' : `${md(title)}${who}, ${md(license ?? 'no license stated')}`;
  return `${relation} of ${md(from)}: ${name}. ${changes === null ? 'What was changed is not said yet.' : `Changes: ${md(changes)}`}`;
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
        face.state === 'unmeasured' ? 'not to be measured' : face.state,
      ];
    }),
  );
  if (rows.length === 0) return [];
  return [
    '',
    '### Interfaces',
    '',
    ...mdTable(['part', 'interface', 'kind', 'measured', 'takes', 'state'], rows),
  ];
}

function printBlock({ parts }: PreparedVariant): string[] {
  if (parts.length === 0) return [];
  return [
    '',
    '### To print',
    '',
    ...mdTable(
      ['part', 'pieces', 'material', 'size in mm', 'listed printers that take it'],
      parts.map(({ id, quantity, material, size_mm, printers }) => [
        md(id),
        String(quantity),
        material === null ? 'not said' : md(material),
        size_mm === null ? 'not to be measured' : size_mm.map(v => num(v, 1)).join(' × '),
        printers === null ? '' : printers.length === 0 ? 'none by its box' : md(printers.join(', ')),
      ]),
    ),
  ];
}

function findingBlock({ review }: Preparation): string[] {
  const { findings } = review;
  const lines = ['', '### Checks', '', passedWords(review)];
  if (findings.length === 0) return lines;
  lines.push('', ...findings.slice(0, mostFindings).flatMap(findingLines));
  if (findings.length > mostFindings) lines.push(`- … and ${findings.length - mostFindings} more.`);
  return lines;
}

function passedWords({ counts }: Review): string {
  const open = [
    counts.errors > 0 ? plural(counts.errors, 'error') : '',
    counts.asks > 0 ? plural(counts.asks, 'question') : '',
    counts.warnings > 0 ? plural(counts.warnings, 'warning') : '',
    counts.notes > 0 ? plural(counts.notes, 'note') : '',
  ].filter(Boolean);
  const asked = 'Files, meshes, interfaces, printers, lineage, licenses and credit were checked';
  return `${asked}: ${open.length === 0 ? 'nothing is open' : `open are ${open.join(', ')}`}.`;
}

/** What no file tells; nobody ticks these but whoever sends it. */
function boxes(variants: readonly PreparedVariant[]): string[] {
  if (variants.length === 0) return [];
  return [
    '',
    '### To be filled in by whoever sends this',
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
