import type { ByteSource } from '../../bytes.ts';
import { InputError } from '../../error.ts';
import { asciiText } from './decimal.ts';
import { utf8Text } from './utf8.ts';

/** Bytes of text in memory at a time. */
const windowBytes = 1 << 18;
/** No honest word is longer; longer ones are refused, so that a word never outgrows the window. */
const longestWord = 4096;
/** Bytes kept of a name or comment. */
const longestName = 256;

/**
 * A walk over the words of a text file that never holds more than a window of it.
 *
 * Lines end with LF, CR LF or CR; blanks, tabs and other control bytes separate words. The word found last
 * stands in `buffer[wordStart…wordEnd)` until the next step.
 */
export interface TextScan {
  readonly source: ByteSource;
  readonly buffer: Uint8Array<ArrayBuffer>;
  /** End of the bytes in the buffer. */
  end: number;
  /** Next byte to look at. */
  at: number;
  /** Place of the buffer in the source. */
  offset: number;
  /** Line of `at`, from 1. */
  line: number;
  /** Place in the source where that line starts. */
  lineStart: number;
  wordStart: number;
  wordEnd: number;
}

/**
 * A walk from byte `offset` on, past a byte-order mark of UTF-8.
 *
 * @throws {InputError} `text-encoding` for UTF-16.
 */
export function scanText(source: ByteSource, offset = 0, line = 1): TextScan {
  const buffer = new Uint8Array(Math.min(windowBytes, Math.max(source.size - offset, longestWord)));
  const scan = { source, buffer, end: 0, at: 0, offset, line, lineStart: offset, wordStart: 0, wordEnd: 0 };
  refill(scan, 0);
  if (offset === 0 && scan.end >= 2) {
    const [a, b, c] = buffer;
    if ((a === 0xfe && b === 0xff) || (a === 0xff && b === 0xfe)) {
      throw new InputError(
        'text-encoding',
        'the file is written in UTF-16',
        'Save it as plain text (UTF-8) or as a binary format.',
        { byte: 0 },
      );
    }
    if (a === 0xef && b === 0xbb && c === 0xbf) scan.at = 3;
  }
  return scan;
}

/** Finds the next word, on any line; false at the end of the text. */
export function nextWord(scan: TextScan): boolean {
  for (;;) {
    const { buffer, end } = scan;
    let at = scan.at;
    while (at < end && buffer[at] <= 0x20) {
      if (buffer[at] === 0x0a || buffer[at] === 0x0d) {
        scan.at = at;
        countLine(scan);
        at = scan.at;
      } else {
        at++;
      }
    }
    scan.at = at;
    if (at < scan.end) return takeWord(scan);
    if (!refill(scan, scan.end)) return false;
  }
}

/** Finds the next word on this line; false at its end or the end of the text. */
export function nextWordInLine(scan: TextScan): boolean {
  for (;;) {
    const { buffer, end } = scan;
    let at = scan.at;
    while (at < end && buffer[at] <= 0x20 && buffer[at] !== 0x0a && buffer[at] !== 0x0d) at++;
    scan.at = at;
    if (at < end) return buffer[at] > 0x20 && takeWord(scan);
    if (!refill(scan, end)) return false;
  }
}

/** Steps to the start of the next line; false when there is none. */
export function nextLine(scan: TextScan): boolean {
  for (;;) {
    const { buffer, end } = scan;
    let at = scan.at;
    while (at < end && buffer[at] !== 0x0a && buffer[at] !== 0x0d) at++;
    scan.at = at;
    if (at < end) {
      countLine(scan);
      return true;
    }
    if (!refill(scan, end)) return false;
  }
}

/** The rest of the line from `at` on, trimmed, at most 256 bytes of it; stays on the line. */
export function restOfLine(scan: TextScan): string {
  if (scan.end - scan.at < longestName) refill(scan, scan.at);
  const { buffer } = scan;
  const limit = Math.min(scan.end, scan.at + longestName);
  let end = scan.at;
  while (end < limit && buffer[end] !== 0x0a && buffer[end] !== 0x0d) end++;
  const text = utf8Text(buffer.subarray(scan.at, end));
  scan.at = end;
  return text.trim();
}

/** The bytes of the word found last; they change with the next step. */
export function wordBytes(scan: TextScan): Uint8Array {
  return scan.buffer.subarray(scan.wordStart, scan.wordEnd);
}

/** The word found last, as text of at most 40 characters. */
export function wordText(scan: TextScan): string {
  return asciiText(scan.buffer, scan.wordStart, Math.min(scan.wordEnd, scan.wordStart + 40));
}

/** True when the word found last is `word`, in any case; `word` in lower case. */
export function wordIs(scan: TextScan, word: string): boolean {
  const { buffer, wordStart } = scan;
  if (scan.wordEnd - wordStart !== word.length) return false;
  for (let i = 0; i < word.length; i++) {
    const byte = buffer[wordStart + i];
    const wanted = word.charCodeAt(i);
    if (byte !== wanted && (byte | 0x20) !== wanted) return false;
  }
  return true;
}

function takeWord(scan: TextScan): boolean {
  let at = scan.at;
  for (;;) {
    const { buffer, end } = scan;
    while (at < end && buffer[at] > 0x20) at++;
    if (at < end || at - scan.at > longestWord) break;
    // Reading on moves the word to the front, at the end of the text too.
    const length = at - scan.at;
    const more = refill(scan, scan.at);
    at = scan.at + length;
    if (!more) break;
  }
  if (at - scan.at > longestWord) {
    throw new InputError(
      'text-word',
      `a word is longer than ${longestWord} bytes`,
      'Export the file again.',
      {
        line: scan.line,
        column: scan.offset + scan.at - scan.lineStart + 1,
      },
    );
  }
  scan.wordStart = scan.at;
  scan.wordEnd = at;
  scan.at = at;
  return true;
}

/** Steps over the line end at `at`; the LF of a CR LF belongs to the same end. */
function countLine(scan: TextScan): void {
  if (scan.buffer[scan.at] === 0x0d) {
    if (scan.at + 1 === scan.end) refill(scan, scan.at);
    if (scan.at + 1 < scan.end && scan.buffer[scan.at + 1] === 0x0a) scan.at++;
  }
  scan.at++;
  scan.line++;
  scan.lineStart = scan.offset + scan.at;
}

/** Moves the bytes from `keep` on to the front and reads more behind them; false when there are no more. */
function refill(scan: TextScan, keep: number): boolean {
  const { buffer } = scan;
  buffer.copyWithin(0, keep, scan.end);
  scan.at -= keep;
  scan.offset += keep;
  scan.end -= keep;
  const got = scan.source.read(scan.offset + scan.end, buffer.subarray(scan.end));
  scan.end += got;
  return got > 0;
}
