import { LineCounter, type Document } from 'yaml';
import { defaults } from '../defaults.ts';
import type { DocumentKind, Documents } from '../documents.ts';
import { pointer, type DocumentPath, type Problem } from '../problem.ts';
import { boundProblems } from './bounds.ts';
import type { Draft } from './draft.ts';
import { kindProblem } from './kind.ts';
import { parseText } from './parse-text.ts';
import { places, type Places, type TextPlace } from './places.ts';
import { schemaProblems } from './schema-problems.ts';
import { countLines, textProblem } from './text.ts';
import { yamlProblems } from './yaml-problems.ts';

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
  const counter = new LineCounter();
  const result = (value: unknown, drafts: readonly Draft[], document: Document | null): ReadDocument<K> => {
    const known = places(text, counter, document);
    return {
      kind,
      file,
      text,
      value: drafts.length === 0 ? (value as Documents[K]) : null,
      problems: placed(drafts, file, known),
      place: path => known.of(path),
    };
  };
  countLines(text, counter);
  const unfit = textProblem(text);
  if (unfit !== null) return result(null, [unfit], null);
  let document: Document;
  try {
    const parsed = parseText(text);
    if ('code' in parsed) return result(null, [parsed], null);
    document = parsed;
  } catch (error) {
    return result(null, [unreadable(error)], null);
  }
  const { syntax, others } = yamlProblems(document, text);
  if (syntax.length > 0) return result(null, syntax, document);
  const bounds = boundProblems(document);
  if (bounds.fatal) return result(null, [...others, ...bounds.problems], document);
  let value: unknown;
  try {
    value = document.toJS({ maxAliasCount: -1 });
  } catch (error) {
    return result(null, [...others, unreadable(error)], document);
  }
  const wrongKind = kindProblem(kind, value);
  const schema = wrongKind === null ? schemaProblems(kind, value) : [wrongKind];
  return result(value, [...others, ...bounds.problems, ...schema], document);
}

function unreadable(error: unknown): Draft {
  const deep = error instanceof RangeError;
  return {
    code: deep ? 'document-too-deep' : 'document-unreadable',
    text: deep ? 'Groups and lists are nested too deeply.' : 'The document cannot be read.',
    remedy: 'Write it anew, with the keys of the schema.',
    where: { kind: 'offset', offset: 0 },
  };
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
