import type { AddedLine, Preparation, PreparedVariant, VariantReview } from '@kinprint/registry';
import { partedFindings } from '../review/finding-words.ts';
import { findingsHeading, reviewHeadings } from '../review/heading-words.ts';
import { fileLines, findingBlock, indented, section, variantLines } from '../review/review-text.ts';
import { interfaceStateWords, safetyWords } from '../review/review-words.ts';
import { paints, wrap, type Style } from '../terminal/layout.ts';
import { clean } from '../terminal/words.ts';
import {
  baseWords,
  missingTitles,
  printerWords,
  readyWords,
  takingHeading,
  unreadWords,
  whereWords,
} from './prepare-words.ts';

/** What a contributor wants to know, for a terminal: the answer first, then variant by variant, then what will be asked. */
export function prepareText(
  preparation: Preparation,
  added: readonly AddedLine[],
  written: string | null,
  style: Style,
): string {
  const paint = paints(style);
  const { review, ready, variants, base } = preparation;
  const painted =
    review.decision === 'nothing' ? paint.dim : ready ? paint.green : (text: string) => paint.red(text);
  const lines = [
    ...wrap(clean(readyWords(preparation)), style.columns).map(line => painted(line)),
    ...wrap(clean(`${review.registry}. ${baseWords(base)}`), style.columns).map(line => paint.dim(line)),
  ];
  if (added.length > 0) lines.push('', ...addedLines(added, style));
  const { blocking, others } = partedFindings(review);
  lines.push(...findingBlock(reviewHeadings.blocking, blocking, style));
  for (const variant of review.variants) {
    const prepared = variants.find(({ address }) => address === variant.address);
    const unread = unreadWords(variant, preparation);
    lines.push('', ...variantLines(variant, style));
    if (unread !== null) lines.push(...indented(clean(unread), style, 2));
    lines.push(...section('Interfaces', interfaceLines(variant), style));
    if (prepared !== undefined)
      lines.push(
        ...section(
          takingHeading,
          prepared.parts.flatMap(part => printerWords(part) ?? []),
          style,
        ),
      );
  }
  lines.push(...fileLines(review, style));
  const gaps = variants.filter(({ missing }) => missing.length > 0);
  if (gaps.length > 0) {
    lines.push('', paint.bold('To put into manifests'));
    const how =
      'Line numbers are those of the files as they are: begin with the last one. --add writes those marked certain.';
    lines.push(...indented(how, style, 2).map(line => paint.dim(line)));
    for (const variant of gaps) lines.push(...missingLines(variant, style));
  }
  lines.push(...findingBlock(findingsHeading(review), others, style));
  if (written !== null)
    lines.push(
      '',
      ...wrap(
        clean(`The text for the submission is in ${written}; the boxes in it are yours to tick.`),
        style.columns,
      ),
    );
  if (review.variants.length > 0)
    lines.push('', ...wrap(safetyWords, style.columns).map(line => paint.dim(line)));
  return lines.join('\n');
}

/** What stands to the manifests' interfaces, also where nothing changed: `shell: pivot, boss kept`. */
function interfaceLines({ parts }: VariantReview): string[] {
  return parts.flatMap(({ id, interfaces }) => {
    if (interfaces.length === 0) return [];
    const named = interfaces.map(face => [face.id, interfaceStateWords(face)] as const);
    const words = [...new Set(named.map(([, state]) => state))].map(state => {
      const ids = named.filter(each => each[1] === state).map(([face]) => face);
      return `${ids.join(', ')} ${state}`;
    });
    return [`${id}: ${words.join('; ')}`];
  });
}

function addedLines(added: readonly AddedLine[], style: Style): string[] {
  return [
    paints(style).bold('Added'),
    ...added.flatMap(({ kind, part, file }) =>
      indented(clean(`${file}: ${missingTitles[kind]}${part === null ? '' : ` of ${part}`}`), style, 2),
    ),
  ];
}

/** The lines to put in stand as they are, unbroken and at the margin, so that they can be copied. */
function missingLines({ file, missing }: PreparedVariant, style: Style): string[] {
  const paint = paints(style);
  return missing.flatMap(({ kind, why, certain, text, ...where }) => [
    '',
    ...indented(
      `${missingTitles[kind]}${certain ? ' (certain)' : ''}: ${clean(file)}, ${whereWords(where)}`,
      style,
      2,
    ),
    ...indented(clean(why), style, 4).map(line => paint.dim(line)),
    ...text.split('\n').map(line => paint.cyan(clean(line))),
  ]);
}
