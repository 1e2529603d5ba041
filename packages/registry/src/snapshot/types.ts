import type { EntryInfo } from '@kinprint/compare';
import type { ByteSource, Note } from '@kinprint/mesh';

/** A byte source that holds something open: a file, or memory worth giving back. */
export interface OpenSource extends ByteSource {
  close(): void;
}

/**
 * Why an entry has no content to read.
 *
 * - `lfs-pointer`: the file is a large-file pointer whose content is not in this repository's local store.
 * - `lfs-damaged`: the local large-file store holds other bytes than the pointer names.
 * - `missing`: the repository does not hold the object (a partial clone, or a damaged store).
 * - `too-large`: larger than `registryDefaults.maxFileBytes`.
 * - `unreadable`: the operating system refuses to read the file.
 * - `not-regular`: a link, a submodule or a special file, which is never followed.
 */
export type EntryProblemCode =
  'lfs-pointer' | 'lfs-damaged' | 'missing' | 'too-large' | 'unreadable' | 'not-regular';

export interface EntryProblem {
  readonly code: EntryProblemCode;
  readonly text: string;
  readonly remedy: string;
}

/** Where a worker can find an entry's bytes without being sent them. */
export type EntryPlace = {
  readonly kind: 'file';
  readonly path: string;
  readonly root: string | null;
} | null;

/** One file that may be a mesh. */
export interface SnapshotEntry extends EntryInfo {
  readonly problem: EntryProblem | null;
  /** Set when the content is a plain file on this machine. */
  readonly place: EntryPlace;
  /**
   * Opens the content; the caller closes it.
   *
   * @throws InputError (code of `problem`, or `file-unreadable`) when there is none.
   */
  open(): Promise<OpenSource>;
}

/** The files of one state that may be meshes: a directory, one file, or what a commit holds. */
export interface Snapshot {
  /** How the user named it: a path, or a revision. */
  readonly name: string;
  /** `file` when exactly one file was named, whatever its path; `tree` otherwise. */
  readonly kind: 'file' | 'tree';
  /** Sorted by path. */
  readonly entries: readonly SnapshotEntry[];
  readonly notes: readonly Note[];
  /** Gives back what the snapshot holds (a git process). Entries cannot be opened afterwards. */
  close(): Promise<void>;
}
