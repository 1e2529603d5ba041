import type { Note } from '@kinprint/mesh';
import type { EntryPlace, EntryProblem, OpenSource } from '../snapshot/types.ts';

/** One file of a registry's state. */
export interface FileRef {
  /** From the registry's root, with forward slashes; see `pathText` for names that are no UTF-8. */
  readonly path: string;
  /** Bytes of the content (of a large-file pointer: of what it points to); null when not known. */
  readonly size: number | null;
  /** The id git gives the content, where the state comes from git; of a pointer, the pointer's own. */
  readonly id: string | null;
  /** Why it has no content to read; `not-regular` marks links and the like, which are never followed. */
  readonly problem: EntryProblem | null;
}

/** All files of one state of a registry, read only. Refs belong to the object that listed them. */
export interface RegistryFiles {
  /** How to name the state to a person: a folder, or a git revision. */
  readonly name: string;
  readonly kind: 'working' | 'commit';
  /** The commit's id; null for a working copy. */
  readonly commit: string | null;
  /** The folder of a working copy; null for a commit. */
  readonly root: string | null;
  /**
   * Every file below `devices`, `vetting` and `advisories`, and registry.yaml, sorted by path; hidden files and
   * what git ignores left out. Listed once, at the first call.
   *
   * @throws InputError `tree-too-large`
   */
  list(): Promise<readonly FileRef[]>;
  /** What the listing left out: folders that cannot be read, nested repositories, too deep ones. */
  notes(): Promise<readonly Note[]>;
  /**
   * The content, or its first `most` bytes.
   *
   * @throws InputError (code of the ref's problem, or `file-…`)
   */
  bytes(ref: FileRef, most?: number): Promise<Uint8Array>;
  /** Opens the content; the caller closes it. @throws InputError as `bytes` */
  open(ref: FileRef): Promise<OpenSource>;
  /** SHA-256 of the content in hex; of a large-file pointer, what it names. @throws InputError as `bytes` */
  sha256(ref: FileRef): Promise<string>;
  /** Where a worker finds the bytes by itself; null when they must be sent. */
  place(ref: FileRef): EntryPlace;
}

/** Where a registry keeps its files; nothing else in the root belongs to it. */
export const registryFolders: readonly string[] = ['devices', 'vetting', 'advisories'];
export const registryFile = 'registry.yaml';
export const deviceFile = 'device.yaml';
export const variantFile = 'variant.yaml';

/**
 * What remembers the SHA-256 of content between runs: of git objects by their id, of files by their path and what
 * the file system says of them.
 */
export interface HashMemory {
  known(key: HashKey): string | null;
  learn(key: HashKey, sha256: string): void;
}

export type HashKey =
  | { readonly kind: 'object'; readonly format: 'sha1' | 'sha256'; readonly id: string }
  | { readonly kind: 'file'; readonly path: string };
