import { Composer, Lexer, Parser, YAMLParseError, type Document } from 'yaml';
import { defaults } from '../defaults.ts';
import type { Draft } from './draft.ts';

/** How every document is parsed: YAML 1.2 core schema, which types that the file brings cannot extend. */
export const parseOptions = {
  version: '1.2',
  schema: 'core',
  merge: false,
  stringKeys: true,
  // Checked by us in linear time.
  uniqueKeys: false,
  prettyErrors: false,
  // 'silent' would let a second document pass.
  logLevel: 'error',
} as const;

/** Engines that know no such limit ignore it. */
const engine: ErrorConstructor & { stackTraceLimit?: number | undefined } = Error;

type Tokens = ReturnType<Parser['next']>;

/** Why the text is not parsed further. */
class Stop extends Error {
  readonly draft: Draft;

  constructor(draft: Draft) {
    super(draft.text);
    this.draft = draft;
  }
}

/**
 * What the library's `parseDocument` does, in bounded time: it stops at a sign too many, and errors of which there
 * can be hundreds of thousands do not each carry a stack.
 *
 * @returns the document, or what is wrong with the text as a whole
 * @throws whatever the library throws where nesting exceeds the stack
 */
export function parseText(text: string): Document | Draft {
  const usual = engine.stackTraceLimit;
  engine.stackTraceLimit = 0;
  try {
    let document: Document.Parsed | null = null;
    for (const next of new Composer(parseOptions).compose(tokensOf(text), true, text.length)) {
      if (document !== null) {
        const [from, to] = next.range;
        document.errors.push(new YAMLParseError([from, to], 'MULTIPLE_DOCS', 'A second document.'));
        break;
      }
      document = next;
    }
    return document as Document.Parsed; // with `true`, the library makes one in any case
  } catch (error) {
    if (error instanceof Stop) return error.draft;
    throw error;
  } finally {
    engine.stackTraceLimit = usual;
  }
}

function* tokensOf(text: string): Tokens {
  const parser = new Parser();
  let lexemes = 0;
  let errors = 0;
  for (const lexeme of new Lexer().lex(text)) {
    if (++lexemes > defaults.lexemes)
      throw new Stop({
        code: 'document-too-large',
        text: `The document has more than ${defaults.lexemes} words and signs.`,
        remedy: 'Split it, or keep data in files of its own.',
        where: { kind: 'offset', offset: parser.offset },
      });
    for (const token of parser.next(lexeme)) {
      // What the parser cannot place at all; what follows it is seldom better.
      if (token.type === 'error' && ++errors > defaults.problems) return;
      yield token;
    }
  }
  yield* parser.end();
}
