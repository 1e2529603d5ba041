import { leftOut } from '../snapshot/left-out.ts';
import { problemError } from '../snapshot/problems.ts';
import type { EntryProblem, OpenSource, Snapshot, SnapshotEntry } from '../snapshot/types.ts';
import { findInRevision } from './find-in-revision.ts';
import { openBlob, pointerOf, sizeProblem } from './git-file.ts';
import { lfsProblem, openLfs } from './lfs-store.ts';
import type { ObjectSize } from './objects.ts';
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
    openBlob(objects, file.id, file.path),
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
