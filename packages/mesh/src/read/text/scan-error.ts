import { InputError } from '../../error.ts';
import { asciiText, parseDecimal, parseInteger } from './decimal.ts';
import { nextWordInLine, wordText, type TextScan } from './text-scan.ts';

/**
 * What is wrong at the word found last. When that word is a conflict marker which version control left at the
 * start of a line, that is said instead: then everything else is only its consequence.
 */
export function scanError(
  scan: TextScan,
  code: string,
  what: string,
  remedy: string,
  facet?: number,
): InputError {
  if (isConflictMarker(scan)) return conflictMarker(scan.line, wordText(scan).slice(0, 7), facet);
  const place = { line: scan.line, column: column(scan), ...(facet === undefined ? {} : { facet }) };
  return new InputError(code, what, remedy, place);
}

/** The error for a marker that version control left at the start of `line`. */
export function conflictMarker(line: number, marker: string, facet?: number): InputError {
  return new InputError(
    'conflict-marker',
    `version control left a conflict marker here (${marker}): two versions of the file are mixed`,
    'Resolve the merge: take one of the two versions whole, or export the part again.',
    { line, column: 1, ...(facet === undefined ? {} : { facet }) },
  );
}

/** True for seven of `<`, `=`, `>` or `|` at the start of a line. */
export function isConflictMarker(scan: TextScan): boolean {
  const { buffer, wordStart, wordEnd } = scan;
  if (wordEnd - wordStart < 7 || column(scan) !== 1) return false;
  const first = buffer[wordStart];
  if (first !== 0x3c && first !== 0x3d && first !== 0x3e && first !== 0x7c) return false;
  for (let i = 1; i < 7; i++) if (buffer[wordStart + i] !== first) return false;
  return wordEnd - wordStart === 7 || buffer[wordStart + 7] !== first;
}

/**
 * The next word on this line as a number. The ways in which programs print what is no number (`nan`, `inf`,
 * `1.#IND` and the like) give NaN or an infinity; the caller drops what cannot be placed.
 *
 * @throws {InputError} `not-a-number` when there is no word or it is something else.
 */
export function numberInLine(scan: TextScan, what: string, facet?: number): number {
  if (!nextWordInLine(scan)) {
    scan.wordStart = scan.wordEnd = scan.at;
    throw scanError(scan, 'not-a-number', `${what} is missing`, 'Export the file again.', facet);
  }
  return wordNumber(scan, what, facet);
}

/** The word found last as a number; see `numberInLine`. */
export function wordNumber(scan: TextScan, what: string, facet?: number): number {
  const value = parseDecimal(scan.buffer, scan.wordStart, scan.wordEnd);
  if (!Number.isNaN(value)) return value;
  const text = wordText(scan);
  if (/^[+-]?(nan|inf|\d\.?\d*#(ind|[qs]nan|inf))/i.test(text)) return NaN;
  const comma = /^[+-]?\d*,\d+/.test(text);
  throw scanError(
    scan,
    'not-a-number',
    comma ? `${what} has a decimal comma: "${text}"` : `${what} is not a number: "${text}"`,
    comma
      ? 'Export the file with decimal points (language setting of the program).'
      : 'Export the file again.',
    facet,
  );
}

/** The word found last as a whole number; NaN when it is not one. */
export function wordInteger(scan: TextScan, end = scan.wordEnd): number {
  return parseInteger(scan.buffer, scan.wordStart, end);
}

/** The word found last, quoted for a message, or the end of the text. */
export function quotedWord(scan: TextScan): string {
  return scan.wordEnd > scan.wordStart
    ? `"${asciiText(scan.buffer, scan.wordStart, Math.min(scan.wordEnd, scan.wordStart + 24))}"`
    : 'the end of the text';
}

function column(scan: TextScan): number {
  return scan.offset + scan.wordStart - scan.lineStart + 1;
}
