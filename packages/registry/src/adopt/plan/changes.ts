import { byText, type PartComparison } from '@kinprint/compare';
import { shapeWords } from '../../record/shape-words.ts';
import { oneLine } from '../source/commit-object.ts';
import type { SourceFile } from '../source/types.ts';
import { baseName } from './names.ts';

/** The schema's bounds. */
const lineLength = 200;
const mostLines = 1000;

/** What is known of one side of a step. */
export interface ChangeSide {
  /** The id of the part at a path; null for files that are no part of the variant. */
  id(path: string): string | null;
  /** The variant's files. */
  readonly files: readonly SourceFile[];
}

/**
 * What changed from one letter to the next, a line each: what the commit said, the parts, then models and licenses.
 *
 * @param parts what the comparison said of the two states
 */
export function changeLines(
  subject: string | null,
  parts: readonly PartComparison[],
  before: ChangeSide,
  after: ChangeSide,
): string[] {
  const lines = [
    ...(subject === null || subject === '' ? [] : [subject]),
    ...parts.flatMap(part => partLine(part, before, after)).sort(byText),
    ...otherLines(before.files, after.files),
  ];
  return lines.slice(0, mostLines).map(line => oneLine(line, lineLength));
}

function partLine(part: PartComparison, before: ChangeSide, after: ChangeSide): string[] {
  const was = part.before === null ? null : before.id(part.before);
  const is = part.after === null ? null : after.id(part.after);
  // What another variant was made from changed nothing here.
  const name = part.after === null ? was : is;
  if (name === null) return [];
  const words = shapeWords(part);
  const from = was !== null && was !== is && part.after !== null ? madeFrom(part, was) : '';
  const moved =
    part.before !== null &&
    part.after !== null &&
    was === is &&
    baseName(part.before) !== baseName(part.after)
      ? `file renamed from ${baseName(part.before)}`
      : '';
  const text = [from, moved, words ?? ''].filter(Boolean).join('; ');
  return text === '' ? [] : [`${name}: ${text}`];
}

function madeFrom(part: PartComparison, was: string): string {
  switch (part.pairing) {
    case 'gathered':
      return `holds ${was}`;
    case 'split':
      return `split off ${was}`;
    case 'copy':
      return `added, made from ${was}`;
    case 'path':
    case 'content':
    case 'shape':
    case 'added':
    case 'removed':
      return `was ${was}`;
  }
}

/** Models, licenses and READMEs that came, went or changed. */
function otherLines(before: readonly SourceFile[], after: readonly SourceFile[]): string[] {
  const others = (files: readonly SourceFile[]): Map<string, SourceFile> =>
    new Map(files.flatMap(file => (file.kind === 'mesh' ? [] : [[file.path, file]])));
  const [old, now] = [others(before), others(after)];
  return [...new Set([...old.keys(), ...now.keys()])].sort(byText).flatMap(path => {
    const [was, is] = [old.get(path), now.get(path)];
    if (was !== undefined && is !== undefined) return was.digest === is.digest ? [] : [`${path}: changed`];
    return [`${path}: ${is === undefined ? 'removed' : 'added'}`];
  });
}
