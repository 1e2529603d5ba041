import type { CreditEntry, Credits } from '@kinprint/license';
import { clean } from '../terminal/words.ts';
import { everybody, list, madeFrom, phrasesOf } from './phrases.ts';

/** Plain text, a block for every work; what people wrote can move no cursor. */
export function creditsPlain(credits: Credits): string {
  const blocks = [creditBlock(credits.work)];
  if (credits.from.length > 0) blocks.push(madeFrom, ...credits.from.map(creditBlock));
  if (credits.unknown.length > 0)
    blocks.push(`Also from works that are not at hand: ${list(credits.unknown)}.`);
  return harmless(blocks.map(oneLined).join('\n\n'));
}

/** One work: title and authors, source, license, changes; a line each. */
export function creditBlock(entry: CreditEntry): string {
  const { title, by, license, changes } = phrasesOf(entry);
  const links = entry.licenses.flatMap(({ url }) => (url === null ? [] : [url]));
  return [
    `"${title}" ${by}`,
    `  Source:  ${entry.url === null ? entry.id : `${entry.url} (${entry.id})`}`,
    `  License: ${license}${links.length === 0 ? '' : ` (${links.join(', ')})`}`,
    ...changes.map(change => `  ${change}`),
  ]
    .map(line => line.replace(/\s*\n\s*/g, ' '))
    .join('\n');
}

function harmless(text: string): string {
  return text.split('\n').map(clean).join('\n');
}

function oneLined(text: string): string {
  return text.replace(/[^\S\n]+$/gm, '');
}

/**
 * A short form for a printed card: everybody's name, the licenses, that it was changed, and where the whole stands,
 * which a license may allow instead (CC-BY-4.0 3(a)(2): by a link, where that is reasonable).
 *
 * @param columns signs in a line
 */
export function creditsLabel(credits: Credits, columns = 40): string {
  const { work, from } = credits;
  const licenses = [
    ...new Set(
      [work, ...from].flatMap(entry =>
        entry.licenses.map(({ name, url }) =>
          url === null ? name : `${name} ${url.replace(/^https:\/\//, '')}`,
        ),
      ),
    ),
  ];
  const changed = from.some(entry => entry.changes.some(change => change.relation !== 'copy'));
  const sentences = [
    `${work.title}.`,
    `By ${list(everybody(credits))}.`,
    ...(changed
      ? [`Changed from ${list(from.map(entry => entry.title))}.`]
      : from.length > 0
        ? [`From ${list(from.map(entry => entry.title))}.`]
        : []),
    `License: ${licenses.length === 0 ? 'none stated' : licenses.join('; ')}.`,
    `More: ${work.url ?? work.id}`,
  ];
  return harmless(sentences.flatMap(sentence => wrapped(sentence.replace(/\s+/g, ' '), columns)).join('\n'));
}

/** Breaks at blanks; a longer word stands alone and whole, as a link that is cut leads nowhere. */
function wrapped(text: string, columns: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= columns)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
