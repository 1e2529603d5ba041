import type { DocumentPath, ProblemCode } from '../problem.ts';

/** A problem before its place is looked up. */
export interface Draft {
  readonly code: ProblemCode;
  readonly text: string;
  readonly remedy: string;
  readonly where:
    | { readonly kind: 'offset'; readonly offset: number }
    | { readonly kind: 'value' | 'key'; readonly path: DocumentPath };
}

/** A text of the document, quoted and short enough for a message. */
export function quoted(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return `'${line.length > 60 ? `${line.slice(0, 57)}…` : line}'`;
}
