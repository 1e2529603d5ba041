import { LineCounter, type Document } from 'yaml';
import { boundProblems } from './bounds.ts';
import type { Draft } from './draft.ts';
import { parseText } from './parse-text.ts';
import { countLines, textProblem } from './text.ts';
import { yamlProblems } from './yaml-problems.ts';

/** A text as YAML. */
export interface ParsedValue {
  readonly counter: LineCounter;
  /** null where the text cannot be parsed at all. */
  readonly document: Document | null;
  /** The content as plain data; undefined where it cannot be taken. */
  readonly value: unknown;
  /** What is wrong with the text, whatever kind of document it is. */
  readonly problems: readonly Draft[];
}

/** Any text at all ends in a result. Bounds stand in `defaults`. */
export function parsedValue(text: string): ParsedValue {
  const counter = new LineCounter();
  countLines(text, counter);
  const failed = (problems: readonly Draft[], document: Document | null = null): ParsedValue => ({
    counter,
    document,
    value: undefined,
    problems,
  });
  const unfit = textProblem(text);
  if (unfit !== null) return failed([unfit]);
  let document: Document;
  try {
    const parsed = parseText(text);
    if ('code' in parsed) return failed([parsed]);
    document = parsed;
  } catch (error) {
    return failed([unreadable(error)]);
  }
  const { syntax, others } = yamlProblems(document, text);
  if (syntax.length > 0) return failed(syntax, document);
  const bounds = boundProblems(document);
  const problems = [...others, ...bounds.problems];
  if (bounds.fatal) return failed(problems, document);
  try {
    // An empty document has the value null, too.
    return { counter, document, value: (document.toJS({ maxAliasCount: -1 }) as unknown) ?? null, problems };
  } catch (error) {
    return failed([...others, unreadable(error)], document);
  }
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
