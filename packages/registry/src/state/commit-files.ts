import { InputError } from '@kinprint/mesh';
import { findInRevision } from '../git/find-in-revision.ts';
import { openBlob, pointerOf, sizeProblem } from '../git/git-file.ts';
import { lfsProblem, openLfs } from '../git/lfs-store.ts';
import { isObjectId, type ObjectSize } from '../git/objects.ts';
import { commitOf } from '../git/peel.ts';
import type { Repository } from '../git/repository.ts';
import { walkAll, type TreeEntry } from '../git/walk-all.ts';
import { leftOut } from '../snapshot/left-out.ts';
import type { LfsPointer } from '../snapshot/lfs-pointer.ts';
import { notRegular, problemError } from '../snapshot/problems.ts';
import type { OpenSource } from '../snapshot/types.ts';
import { hashAndClose, readAndClose } from '../snapshot/read-and-close.ts';
import {
  registryFile,
  registryFolders,
  type FileRef,
  type HashMemory,
  type RegistryFiles,
} from './registry-files.ts';

/**
 * The files of a registry in a git revision, read from the object store without a checkout. The repository stays
 * open and is the caller's to close.
 *
 * @param revision a branch, a tag, a commit
 * @param prefix the registry's folder in the repository, `''` for its root
 * @param memory remembers hashes between runs
 * @throws InputError `revision-unknown`, `path-not-found`, `path-not-regular`, `object-missing`, `object-damaged`
 */
export async function commitFiles(
  repository: Repository,
  revision: string,
  prefix = '',
  memory: HashMemory | null = null,
): Promise<RegistryFiles> {
  const top = new Set([registryFile, ...registryFolders]);
  return treeFiles(repository, revision, prefix, '', name => top.has(name), memory);
}

/**
 * The files of one folder in a git revision, hidden ones left out, wherever it lies.
 *
 * @param folder from the repository's root
 * @param as what the paths of its files begin with, without a slash at the end
 * @throws InputError as `commitFiles`
 */
export function folderFiles(
  repository: Repository,
  revision: string,
  folder: string,
  as: string,
  memory: HashMemory | null = null,
): Promise<RegistryFiles> {
  return treeFiles(repository, revision, folder, as === '' ? '' : `${as}/`, () => true, memory);
}

async function treeFiles(
  repository: Repository,
  revision: string,
  folder: string,
  prefix: string,
  top: (name: string) => boolean,
  memory: HashMemory | null,
): Promise<RegistryFiles> {
  const { objects, commonFolder } = repository;
  const resolved = isObjectId(revision, objects.format) ? revision : await repository.resolve(revision);
  const commit = await commitOf(objects, resolved);
  const text = folder === '' ? revision : `${revision}:${folder}`;
  const found = await findInRevision(objects, resolved, { text, revision, path: folder });
  if (found.kind === 'file')
    throw new InputError('path-not-found', `'${text}' is a file, not a registry.`, 'Name a commit.');
  const left = leftOut();
  const pointers = new Map<string, LfsPointer>();
  const hashes = new Map<string, string>();
  let listing: Promise<readonly FileRef[]> | null = null;

  async function list(): Promise<readonly FileRef[]> {
    const entries = await walkAll(objects, found.id, text, top, left);
    const files = entries.filter(entry => entry.kind === 'file');
    const sizes = await objects.sizes(files.map(file => file.id));
    const sizeOf = new Map(files.map((file, i) => [file.path, sizes[i]]));
    return Promise.all(
      entries.map(entry =>
        refOf({ ...entry, path: prefix + entry.path }, sizeOf.get(entry.path) ?? 'missing'),
      ),
    );
  }

  async function refOf({ path, id, kind }: TreeEntry, size: ObjectSize): Promise<FileRef> {
    if (kind !== 'file') {
      const what = kind === 'link' ? 'a symbolic link' : 'a submodule';
      return { path, size: null, id, problem: notRegular(what) };
    }
    const base = { path, size: typeof size === 'number' ? size : null, id, problem: sizeProblem(id, size) };
    const pointer = path.endsWith('.yaml') ? null : await pointerOf(objects, id, size);
    if (pointer === null) return base;
    pointers.set(id, pointer);
    return { ...base, size: pointer.size, problem: lfsProblem(commonFolder, pointer) };
  }

  async function open(ref: FileRef): Promise<OpenSource> {
    if (ref.problem !== null) throw problemError(ref.problem, ref.path);
    const id = idOf(ref);
    const pointer = pointers.get(id);
    if (pointer !== undefined) return openLfs(commonFolder, pointer, ref.path);
    return openBlob(objects, id, ref.path);
  }

  async function sha256(ref: FileRef): Promise<string> {
    const id = idOf(ref);
    const pointer = pointers.get(id);
    if (pointer !== undefined) return pointer.oid;
    const key = { kind: 'object', format: objects.format, id } as const;
    const before = hashes.get(id) ?? memory?.known(key) ?? null;
    if (before !== null) return before;
    const hash = hashAndClose(await open(ref));
    memory?.learn(key, hash);
    hashes.set(id, hash);
    return hash;
  }

  return {
    name: revision,
    kind: 'commit',
    commit,
    root: null,
    list: () => (listing ??= list()),
    notes: async () => {
      await (listing ??= list());
      return left.notes();
    },
    bytes: async (ref, most) => readAndClose(await open(ref), most),
    open,
    sha256,
    place: () => null,
  };
}

function idOf(ref: FileRef): string {
  if (ref.id === null) throw new Error(`${ref.path} was not listed by a commit.`);
  return ref.id;
}
