/** Where in an input something is wrong. All counts start at 1 except `byte`. */
export interface Place {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly facet?: number;
  readonly byte?: number;
}

/**
 * Input that cannot be used: unreadable, truncated, absurd. Not for unsound geometry (that is a result) and not
 * for our own faults. Says what is wrong, where, and what to do.
 */
export class InputError extends Error {
  override readonly name = 'InputError';
  /** Closed set, kebab-case, e.g. `stl-truncated`. */
  readonly code: string;
  readonly place: Place;
  readonly remedy: string;

  constructor(code: string, what: string, remedy: string, place: Place = {}) {
    super(what);
    this.code = code;
    this.place = place;
    this.remedy = remedy;
  }

  /** The same error, placed in a file. */
  inFile(file: string): InputError {
    const error = new InputError(this.code, this.message, this.remedy, { ...this.place, file });
    if (this.stack !== undefined) error.stack = this.stack;
    return error;
  }
}

/** `file:line:column`, `file, facet 12`, `file, byte 80`; empty when nothing is known. */
export function placeText(place: Place): string {
  const head = [place.file, place.line, place.column].filter(part => part !== undefined).join(':');
  const tail = [
    place.facet === undefined ? undefined : `facet ${place.facet}`,
    place.byte === undefined ? undefined : `byte ${place.byte}`,
  ].filter(part => part !== undefined);
  return [head, ...tail].filter(part => part !== '').join(', ');
}
