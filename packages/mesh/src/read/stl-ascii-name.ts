import { nextWordInLine, wordBytes, wordIs, type TextScan } from './text/text-scan.ts';
import { utf8Text } from './text/utf8.ts';

/** Characters kept of a name. */
const longestName = 200;

/**
 * The name behind `solid`: the rest of the line, or the words up to `facet normal` or `endsolid` where a file has
 * everything on one line. Blanks between words become one.
 *
 * @returns the name, null when there is none; `after` says which of these words ended it and has been passed.
 */
export function solidName(scan: TextScan): { name: string | null; after: 'line' | 'endsolid' | 'normal' } {
  const words: string[] = [];
  let length = 0;
  let facet = false;
  while (nextWordInLine(scan)) {
    if (wordIs(scan, 'endsolid')) return { name: nameOf(words), after: 'endsolid' };
    if (facet && wordIs(scan, 'normal')) return { name: nameOf(words.slice(0, -1)), after: 'normal' };
    facet = wordIs(scan, 'facet');
    if (length > longestName) words.pop();
    const word = utf8Text(wordBytes(scan).subarray(0, longestName));
    words.push(word);
    if (length <= longestName) length += word.length + 1;
  }
  return { name: nameOf(words), after: 'line' };
}

function nameOf(words: readonly string[]): string | null {
  return words.join(' ').slice(0, longestName) || null;
}
