import type { ReuseOutcome } from '@kinprint/registry';
import { wrap, type Style } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';

/** What was written, and what keeps the folder from conforming. */
export interface ReuseReport extends ReuseOutcome {
  readonly problems: readonly string[];
}

/** `kinprint credits --format reuse --json`; its schema stands in `schemas/output/credits-reuse.schema.json`. */
export function reuseJson(report: ReuseReport): object {
  return { schema: 'kinprint:output/credits-reuse/1', ...report };
}

/** For a person, with what to do about texts that are not at hand. */
export function reuseText(report: ReuseReport, style: Style): string {
  const { folder, files, written, kept, missing, problems } = report;
  const texts = written.filter(file => file.startsWith('LICENSES/'));
  const sentences = [
    `${folder}: ${plural(files.length, 'file')} of the revision, ${plural(written.length - texts.length, 'notice')} beside them, ${plural(texts.length, 'license text')}.`,
    ...(kept.length === 0 ? [] : [`Kept as the revision has them: ${kept.join(', ')}.`]),
    ...problems,
    ...missing.map(
      id => `No text of ${id} is at hand. ${whereToGet(id)} Save it as LICENSES/${id}.txt in that folder.`,
    ),
    missing.length + problems.length === 0
      ? 'It holds what REUSE 3.3 asks for.'
      : 'Until that is mended, it does not conform to REUSE 3.3.',
  ];
  return sentences.flatMap(sentence => wrap(clean(sentence), style.columns)).join('\n');
}

function whereToGet(id: string): string {
  return id.startsWith('LicenseRef-')
    ? 'Ask its authors for it.'
    : `Get it from https://spdx.org/licenses/${id}.html.`;
}
