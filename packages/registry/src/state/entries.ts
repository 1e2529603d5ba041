import type { Snapshot, SnapshotEntry } from '../snapshot/types.ts';
import type { FileRef, RegistryFiles } from './registry-files.ts';

/** A file of a state as the comparison and the measuring take it; digested by SHA-256. */
export async function entryOf(files: RegistryFiles, ref: FileRef): Promise<SnapshotEntry> {
  return {
    path: ref.path,
    size: ref.size,
    digest: ref.problem === null ? `sha256:${await files.sha256(ref)}` : null,
    problem: ref.problem,
    place: files.place(ref),
    open: () => files.open(ref),
  };
}

/**
 * Some files of a state as a tree to compare, their paths counted from `folder`.
 *
 * @param refs all below `folder`
 */
export async function snapshotOf(
  files: RegistryFiles,
  refs: readonly FileRef[],
  folder: string,
  name: string,
): Promise<Snapshot> {
  const entries = await Promise.all(
    refs.map(async ref => ({ ...(await entryOf(files, ref)), path: ref.path.slice(folder.length + 1) })),
  );
  return { name, kind: 'tree', entries, notes: [], close: () => Promise.resolve() };
}
