import { registryDefaults } from '../defaults.ts';
import { leftOut } from '../snapshot/left-out.ts';
import { parseLfsPointer, type LfsPointer } from '../snapshot/lfs-pointer.ts';
import { missingObject, problemError, tooLarge, unreadable } from '../snapshot/problems.ts';
import type { EntryProblem, OpenSource, Snapshot, SnapshotEntry } from '../snapshot/types.ts';
import { findInRevision } from './find-in-revision.ts';
import { lfsProblem, openLfs } from './lfs-store.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { GitObjects, ObjectSize } from './objects.ts';
import type { Repository } from './repository.ts';
import type { RevisionSpec } from './revision-spec.ts';
import { meshFilesOfTree, type TreeFile } from './walk-tree.ts';

/**
 * What a git state holds: all mesh files of a commit or of a folder in it, or one file. Nothing is checked out and
 * nothing is written to the repository. Paths count from the folder named.
 *
 * A missing or damaged object is that entry's problem, or a note for a folder; only when nothing can be listed at
 * all is an error thrown. Closing the snapshot leaves the repository open.
 *
 * @throws InputError `revision-unknown`, `path-not-found`, `path-not-regular`, `object-missing`, `object-damaged`,
 *   `tree-too-large`
 */
export async function snapshotFromGit(repository: Repository, spec: RevisionSpec): Promise<Snapshot> {
  const { objects } = repository;
  const found = await findInRevision(objects, await repository.resolve(spec.revision), spec);
  const left = leftOut();
  const files: TreeFile[] =
    found.kind === 'folder'
      ? await meshFilesOfTree(objects, found.id, spec.text, left)
      : [{ path: spec.path === '' ? spec.text : spec.path, id: found.id }];
  return {
    name: spec.text,
    kind: found.kind === 'file' ? 'file' : 'tree',
    entries: await gitEntries(repository, files),
    notes: left.notes(),
    close: () => Promise.resolve(),
  };
}

/** Files of trees as entries, in their order; what is wrong with one is its problem. */
export async function gitEntries(
  repository: Repository,
  files: readonly TreeFile[],
): Promise<SnapshotEntry[]> {
  const sizes = await repository.objects.sizes(files.map(file => file.id));
  return Promise.all(files.map((file, i) => gitEntry(repository, file, sizes[i])));
}

async function gitEntry(repository: Repository, file: TreeFile, size: ObjectSize): Promise<SnapshotEntry> {
  const { objects, commonFolder } = repository;
  const pointer = await pointerOf(objects, file.id, size);
  if (pointer !== null) {
    const problem = lfsProblem(commonFolder, pointer);
    return entry(file.path, pointer.size, `sha256:${pointer.oid}`, problem, () =>
      Promise.resolve(openLfs(commonFolder, pointer, file.path)),
    );
  }
  const digest = `git-${objects.format}:${file.id}`;
  return entry(file.path, typeof size === 'number' ? size : null, digest, sizeProblem(file.id, size), () =>
    openBlob(objects, file),
  );
}

function entry(
  path: string,
  size: number | null,
  digest: string,
  problem: EntryProblem | null,
  open: () => Promise<OpenSource>,
): SnapshotEntry {
  return {
    path,
    size,
    digest,
    problem,
    place: null,
    async open() {
      if (problem !== null) throw problemError(problem, path);
      return open();
    },
  };
}

async function openBlob(objects: GitObjects, file: TreeFile): Promise<OpenSource> {
  const object = await objects.read(file.id);
  if (object.state === 'missing') throw problemError(missingObject(file.id), file.path);
  if (object.state === 'damaged') throw problemError(damaged(file.id, object.text), file.path);
  if (object.type === 'blob') return object.content;
  object.content.close();
  throw problemError(damaged(file.id, `It is a ${object.type}, not a file.`), file.path);
}

async function pointerOf(objects: GitObjects, id: string, size: ObjectSize): Promise<LfsPointer | null> {
  if (typeof size !== 'number' || size >= registryDefaults.lfsPointerBytes) return null;
  const object = await objects.read(id);
  return object.state === 'found' ? parseLfsPointer(readAndClose(object.content)) : null;
}

function sizeProblem(id: string, size: ObjectSize): EntryProblem | null {
  if (size === 'missing') return missingObject(id);
  if (size === 'damaged') return damaged(id, 'git could not read it.');
  return size > registryDefaults.maxFileBytes ? tooLarge(size, registryDefaults.maxFileBytes) : null;
}

function damaged(id: string, why: string): EntryProblem {
  return unreadable(`The object ${id} is damaged: ${why}`);
}
