/**
 * A value that cannot be turned into what was asked for: a number that JSON cannot hold, a path that no listing can
 * name, an edit of something that is not there. Reading a document never throws; it returns problems.
 */
export class ManifestError extends Error {
  override readonly name = 'ManifestError';
  /** Closed set, kebab-case. */
  readonly code: ManifestErrorCode;
  readonly remedy: string;

  constructor(code: ManifestErrorCode, what: string, remedy: string) {
    super(what);
    this.code = code;
    this.remedy = remedy;
  }
}

export type ManifestErrorCode =
  | 'not-canonical'
  | 'path-not-listable'
  | 'path-twice'
  | 'hash-malformed'
  | 'edit-unreadable'
  | 'edit-no-such-place'
  | 'document-invalid'
  | 'export-incomplete';
