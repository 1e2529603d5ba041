import type { OpenSource } from '../snapshot/types.ts';

export type ObjectFormat = 'sha1' | 'sha256';
export type ObjectType = 'blob' | 'tree' | 'commit' | 'tag';

/** What a store holds under an id. */
export type GitObject =
  | { readonly state: 'found'; readonly type: ObjectType; readonly content: OpenSource }
  | { readonly state: 'missing' }
  | { readonly state: 'damaged'; readonly text: string };

/** Bytes, or why there are none. */
export type ObjectSize = number | 'missing' | 'damaged';

/** A git object store that is only read. Two implementations: git itself, and one without git. */
export interface GitObjects {
  readonly format: ObjectFormat;
  /** Reads one object; the caller closes its content. Objects may be asked for without waiting in between. */
  read(id: string): Promise<GitObject>;
  /** The sizes of objects, in the order of the ids. */
  sizes(ids: readonly string[]): Promise<ObjectSize[]>;
  close(): Promise<void>;
}

/** Whether a text is a full object id in this format. */
export function isObjectId(text: string, format: ObjectFormat): boolean {
  return (format === 'sha1' ? /^[0-9a-f]{40}$/ : /^[0-9a-f]{64}$/).test(text);
}
