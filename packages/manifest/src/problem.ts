/** Keys and indices that lead to a value, from the document's root. */
export type DocumentPath = readonly (string | number)[];

/** What can be wrong with the text of a document. Closed set; `docs/findings.md` explains each to people. */
export type ProblemCode =
  | 'document-too-large'
  | 'document-too-deep'
  | 'document-empty'
  | 'document-kind'
  | 'document-version'
  | 'document-unreadable'
  | 'control-character'
  | 'merge-conflict'
  | 'yaml-syntax'
  | 'yaml-several-documents'
  | 'yaml-tab'
  | 'yaml-tag'
  | 'yaml-directive'
  | 'yaml-alias'
  | 'yaml-key'
  | 'duplicate-key'
  | 'unknown-key'
  | 'missing-key'
  | 'wrong-type'
  | 'unknown-value'
  | 'malformed-value'
  | 'out-of-range'
  | 'repeated-value'
  | 'conflicting-key'
  | 'more-problems';

/** Something wrong with a document: what, where, and what to do. */
export interface Problem {
  /** One of `ProblemCode` where it comes from `readDocument`; other readers have their own. */
  readonly code: string;
  readonly severity: 'error' | 'warning';
  /** One or two sentences. May hold text of the file: clean it before printing. */
  readonly text: string;
  readonly remedy: string;
  readonly file: string;
  /** From 1. */
  readonly line: number;
  /** From 1, in UTF-16 units. */
  readonly column: number;
  /** JSON pointer (RFC 6901) to the value, or to the nearest one that is there. */
  readonly at: string;
  /** The offending line, without its end; null where there is none or the place lies too far along it. */
  readonly source: string | null;
}

/** The JSON pointer of a path (RFC 6901). */
export function pointer(path: DocumentPath): string {
  return path.map(step => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}
