import { defaults } from '../defaults.ts';
import type { DocumentKind, Documents } from '../documents.ts';
import { pointer, type DocumentPath, type Problem } from '../problem.ts';
import type { Draft } from './draft.ts';
import { kindProblem } from './kind.ts';
import { parsedValue } from './parsed-value.ts';
import { places, type Places, type TextPlace } from './places.ts';
import { schemaProblems } from './schema-problems.ts';

/** A document as it was read, with everything that is wrong with it. */
export interface ReadDocument<K extends DocumentKind = DocumentKind> {
  readonly kind: K;
  readonly file: string;
  readonly text: string;
  /** The content; null if and only if there is a problem of severity `error`. */
  readonly value: Documents[K] | null;
  /** By line and column. */
  readonly problems: readonly Problem[];
  /** Line and column of a value, or of what is nearest to it in the text. */
  place(path: DocumentPath): TextPlace;
}

/**
 * Reads a document of a registry. Any text at all ends in a result: what is wrong is told with line and column,
 * several problems at once, never thrown. Bounds stand in `defaults`.
 *
 * @param file path that problems name
 */
export function readDocument<K extends DocumentKind>(kind: K, text: string, file: string): ReadDocument<K> {
  const { counter, document, value, problems } = parsedValue(text);
  const drafts = value === undefined ? problems : [...problems, ...contentProblems(kind, value)];
  const known = places(text, counter, document);
  return {
    kind,
    file,
    text,
    value: drafts.length === 0 ? (value as Documents[K]) : null,
    problems: placed(drafts, file, known),
    place: path => known.of(path),
  };
}

function contentProblems(kind: DocumentKind, value: unknown): readonly Draft[] {
  const wrongKind = kindProblem(kind, value);
  return wrongKind === null ? schemaProblems(kind, value) : [wrongKind];
}

function placed(drafts: readonly Draft[], file: string, known: Places): Problem[] {
  const problems = drafts.slice(0, defaults.problems).map((draft): Problem => {
    const { where, code, text, remedy } = draft;
    const place =
      where.kind === 'offset'
        ? known.at(where.offset)
        : where.kind === 'key'
          ? known.ofKey(where.path)
          : known.of(where.path);
    const at = where.kind === 'offset' ? '' : pointer(where.path);
    return { code, severity: 'error', text, remedy, file, ...place, at };
  });
  problems.sort((a, b) => a.line - b.line || a.column - b.column);
  const rest = drafts.length - problems.length;
  if (rest > 0)
    problems.push({
      code: 'more-problems',
      severity: 'error',
      text: `${rest} more problems are not listed.`,
      remedy: 'Settle those above first.',
      file,
      line: problems.at(-1)?.line ?? 1,
      column: 1,
      at: '',
      source: null,
    });
  return problems;
}
