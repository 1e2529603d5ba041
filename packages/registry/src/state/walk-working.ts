import { lstatSync, readdirSync, type Dirent } from 'node:fs';
import path from 'node:path';
import { byText } from '@kinprint/compare';
import { registryDefaults } from '../defaults.ts';
import { tooMany } from '../snapshot/from-folder.ts';
import type { LeftOut } from '../snapshot/left-out.ts';
import { pathText } from '../snapshot/path-text.ts';
import type { Wanted } from './wanted-files.ts';
import { registryFile, registryFolders } from './registry-files.ts';

/** A name in a folder that is no folder to enter. */
export interface WalkedFile {
  readonly path: string;
  readonly size: number | null;
  /** What it is where it is no regular file, with its article. */
  readonly other: string | null;
}

interface Folder {
  readonly absolute: Buffer;
  readonly text: string;
  readonly depth: number;
}

/**
 * Everything below the folders of a registry, sorted by path; hidden names left out.
 *
 * @param wanted which files to list and which folders to enter, by their path
 * @throws InputError `tree-too-large`, `file-unreadable` when the root cannot be listed
 */
export function walkWorking(root: string, left: LeftOut, wanted: Wanted = () => true): WalkedFile[] {
  const found: WalkedFile[] = [];
  const folders: Folder[] = [];
  const join = (folder: Buffer, name: Buffer) => Buffer.concat([folder, Buffer.from(path.sep), name]);
  let looked = 0;

  function enter(folder: Folder, names: (name: string) => boolean): void {
    for (const item of list(folder, left)) {
      const name = pathText(item.name);
      if (name.startsWith('.') || !names(name)) continue;
      if (++looked > registryDefaults.maxTreeEntries)
        throw tooMany(root, registryDefaults.maxTreeEntries, 'files and folders');
      const text = folder.text === '' ? name : `${folder.text}/${name}`;
      if (!wanted(text)) continue;
      const absolute = join(folder.absolute, item.name);
      if (!item.isDirectory()) found.push(fileOf(item, absolute, text));
      else if (folder.depth >= registryDefaults.maxDepth) left.add('too-deep', text);
      else folders.push({ absolute, text, depth: folder.depth + 1 });
    }
  }

  const top = new Set([registryFile, ...registryFolders]);
  enter({ absolute: Buffer.from(root), text: '', depth: 0 }, name => top.has(name));
  for (let folder = folders.pop(); folder !== undefined; folder = folders.pop()) {
    if (isRepository(folder.absolute)) left.add('submodule-skipped', folder.text);
    else enter(folder, () => true);
  }
  return found.sort((a, b) => byText(a.path, b.path));
}

function fileOf(item: Dirent<Buffer>, absolute: Buffer, text: string): WalkedFile {
  if (item.isSymbolicLink()) return { path: text, size: null, other: 'a symbolic link' };
  if (!item.isFile()) return { path: text, size: null, other: 'a special file' };
  try {
    return { path: text, size: lstatSync(absolute).size, other: null };
  } catch {
    return { path: text, size: null, other: null };
  }
}

function list(folder: Folder, left: LeftOut): Dirent<Buffer>[] {
  try {
    return readdirSync(folder.absolute, { encoding: 'buffer', withFileTypes: true });
  } catch {
    left.add('folder-unreadable', folder.text === '' ? '/' : folder.text);
    return [];
  }
}

/** A submodule or another repository: git does not take its files into this one. */
function isRepository(folder: Buffer): boolean {
  try {
    const git = Buffer.concat([folder, Buffer.from(`${path.sep}.git`)]);
    return lstatSync(git, { throwIfNoEntry: false }) !== undefined;
  } catch {
    return false; // it may not be looked into, which listing it will say
  }
}
