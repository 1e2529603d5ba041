import type { Note } from '@kinprint/mesh';
import type { SnapshotEntry } from '../../snapshot/types.ts';

/** What a file may be, by its name; whether a mesh is one, reading it decides. */
export type FileKind = 'mesh' | 'model' | 'license' | 'readme';

/** A file that may belong to the device. */
export interface SourceFile extends SnapshotEntry {
  readonly kind: FileKind;
}

export interface Person {
  readonly name: string;
  readonly contact: string | null;
}

/** What git says of a commit; texts as the commit gives them. */
export interface CommitInfo {
  readonly id: string;
  /** The author's date where the author was, ISO 8601, e.g. 2024-02-03. */
  readonly date: string;
  readonly author: Person;
  /** From `Co-authored-by:` lines, and the authors of what a merge brought; a name may come twice. */
  readonly others: readonly Person[];
  /** The first line of the message. */
  readonly subject: string;
}

/** What one state holds. */
export interface SourceState {
  /** null for a folder as it lies. */
  readonly commit: CommitInfo | null;
  /** Later commits that left all of these files as they are are not listed. Sorted by path. */
  readonly files: readonly SourceFile[];
}

/** A directory, or a repository's history, that is to become a device. */
export interface Source {
  /** How to name it to a person. */
  readonly name: string;
  /** The name of its folder: a first guess at the device's name. */
  readonly folder: string;
  /** Oldest first; the last is what is there now. Never empty. */
  readonly states: readonly SourceState[];
  /** Files of the last state that are of no kind that is taken. */
  readonly otherFiles: number;
  readonly notes: readonly Note[];
  close(): Promise<void>;
}
