import type { LineCounter } from 'yaml';
import { defaults } from '../defaults.ts';
import type { Draft } from './draft.ts';

/** What makes a text unfit to be parsed at all: too long, or with signs that no text file has. */
export function textProblem(text: string): Draft | null {
  if (text.length > defaults.documentBytes || bytesOf(text) > defaults.documentBytes)
    return {
      code: 'document-too-large',
      text: `The document is larger than ${defaults.documentBytes / 1000} kB.`,
      remedy: 'Keep prose, logs and pictures in files of their own.',
      where: { kind: 'offset', offset: 0 },
    };
  // YAML 1.2.2, section 5.1: printable characters.
  const found = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f\ufffe\uffff]|\p{Surrogate}/u.exec(text);
  if (found === null) return null;
  const code = (found[0].codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  return {
    code: 'control-character',
    text: `There is a character that no text has (U+${code}).`,
    remedy: 'Is it a text file in UTF-8? Remove the character.',
    where: { kind: 'offset', offset: found.index },
  };
}

/** Where the lines begin, for all that speaks of places; the parser would stop counting where it gives up. */
export function countLines(text: string, counter: LineCounter): void {
  counter.addNewLine(0);
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) counter.addNewLine(at + 1);
}

function bytesOf(text: string): number {
  // Three bytes at most for each UTF-16 unit: short texts need no counting.
  return text.length * 3 <= defaults.documentBytes ? text.length : new TextEncoder().encode(text).length;
}
