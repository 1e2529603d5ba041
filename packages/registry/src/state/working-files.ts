import { realpathSync } from 'node:fs';
import path from 'node:path';
import { registryDefaults } from '../defaults.ts';
import { lfsProblem, openLfs } from '../git/lfs-store.ts';
import { fileSource } from '../snapshot/file-source.ts';
import { leftOut } from '../snapshot/left-out.ts';
import { parseLfsPointer, type LfsPointer } from '../snapshot/lfs-pointer.ts';
import { pathBytes } from '../snapshot/path-text.ts';
import { notRegular, problemError, tooLarge, unreadable } from '../snapshot/problems.ts';
import type { OpenSource } from '../snapshot/types.ts';
import { hashAndClose, readAndClose } from '../snapshot/read-and-close.ts';
import { workingGit } from './ignored.ts';
import { type FileRef, type HashMemory, type RegistryFiles } from './registry-files.ts';
import type { Wanted } from './wanted-files.ts';
import { walkWorking, type WalkedFile } from './walk-working.ts';

/**
 * The files of a registry as they lie in a folder. Links are named and not followed, git's own folders and nested
 * repositories not entered; files that git ignores and does not track are left out, where git is at hand.
 *
 * @param root the folder that holds registry.yaml
 * @param memory remembers hashes between runs
 * @param wanted which files to list and which folders to enter, by their path from the root; all where left out
 * @throws InputError `file-not-found`, `file-unreadable`
 */
export function workingFiles(root: string, memory: HashMemory | null = null, wanted?: Wanted): RegistryFiles {
  const real = realpathSync(root);
  const left = leftOut();
  const pointers = new Map<string, LfsPointer>();
  const hashes = new Map<string, string>();
  let gitFolder: string | null = null;
  let listing: Promise<readonly FileRef[]> | null = null;

  async function list(): Promise<readonly FileRef[]> {
    const walked = walkWorking(real, left, wanted);
    const git = await workingGit(real);
    gitFolder = git.commonFolder;
    return walked.filter(file => !git.ignored.has(file.path)).map(refOf);
  }

  function refOf(file: WalkedFile): FileRef {
    const base = { path: file.path, size: file.size, id: null, problem: null };
    if (file.other !== null) return { ...base, size: null, problem: notRegular(file.other) };
    if (file.size === null) return { ...base, problem: unreadable('The file cannot be looked at.') };
    if (file.size > registryDefaults.maxFileBytes)
      return { ...base, problem: tooLarge(file.size, registryDefaults.maxFileBytes) };
    if (file.size >= registryDefaults.lfsPointerBytes || file.path.endsWith('.yaml')) return base;
    const pointer = pointerIn(absolute(file.path));
    if (pointer === null) return base;
    pointers.set(file.path, pointer);
    return { ...base, size: pointer.size, problem: lfsProblem(gitFolder ?? real, pointer) };
  }

  function pointerIn(file: Buffer): LfsPointer | null {
    try {
      return parseLfsPointer(readAndClose(fileSource(file, real)));
    } catch {
      return null; // opening it will say what is wrong
    }
  }

  const absolute = (file: string): Buffer => Buffer.concat([Buffer.from(real + path.sep), pathBytes(file)]);

  function openNow(ref: FileRef): OpenSource {
    if (ref.problem !== null) throw problemError(ref.problem, ref.path);
    const pointer = pointers.get(ref.path);
    return pointer === undefined
      ? fileSource(absolute(ref.path), real)
      : openLfs(gitFolder ?? real, pointer, ref.path);
  }

  return {
    name: root,
    kind: 'working',
    commit: null,
    root: real,
    list: () => (listing ??= list()),
    notes: async () => {
      await (listing ??= list());
      return left.notes();
    },
    // Promises, so that what is thrown arrives as a rejection.
    bytes: (ref, most) => Promise.resolve().then(() => readAndClose(openNow(ref), most)),
    open: ref => Promise.resolve().then(() => openNow(ref)),
    sha256: ref =>
      Promise.resolve().then(() => {
        const pointer = pointers.get(ref.path);
        if (pointer !== undefined) return pointer.oid;
        const key = { kind: 'file', path: path.join(real, ref.path) } as const;
        const hash = hashes.get(ref.path) ?? memory?.known(key) ?? hashAndClose(openNow(ref));
        if (!hashes.has(ref.path)) memory?.learn(key, hash);
        hashes.set(ref.path, hash);
        return hash;
      }),
    place: ref => {
      const file = path.join(real, ref.path);
      return ref.problem !== null || pointers.has(ref.path) || !Buffer.from(file).equals(absolute(ref.path))
        ? null
        : { kind: 'file', path: file, root: real };
    },
  };
}
