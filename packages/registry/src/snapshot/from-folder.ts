import { readdirSync, realpathSync, statSync, type Dirent } from 'node:fs';
import path from 'node:path';
import { byText } from '@kinprint/compare';
import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { isSkippedFolder, mayBeMesh } from './candidate.ts';
import type { DigestKind } from './digest.ts';
import { readingError } from './file-source.ts';
import { fileEntry } from './file-entry.ts';
import { leftOut, type LeftOut } from './left-out.ts';
import { pathText } from './path-text.ts';
import type { Snapshot } from './types.ts';

/**
 * What a path on this machine holds: one file (whatever its ending), or all mesh files below a folder. Hidden
 * folders and `node_modules` are left out; links below the folder are noted and not followed.
 *
 * @param digest how to digest the content; give the kind of the other side's snapshot
 * @throws InputError `file-not-found`, `file-not-regular`, `file-unreadable`, `tree-too-large`
 */
export function snapshotFromPath(place: string, digest: DigestKind = 'sha256'): Snapshot {
  const isFolder = stat(place).isDirectory();
  const left = leftOut();
  const entries = isFolder
    ? filesBelow(realpathSync(place), mayBeMesh, left).map(file =>
        fileEntry(file.text, file.absolute, file.root, digest),
      )
    : [fileEntry(path.basename(place), path.resolve(place), null, digest)];
  return {
    name: place,
    kind: isFolder ? 'tree' : 'file',
    entries,
    notes: left.notes(),
    close: () => Promise.resolve(),
  };
}

function stat(place: string) {
  try {
    return statSync(place);
  } catch (error) {
    throw readingError(error, place);
  }
}

export interface FoundFile {
  readonly text: string;
  readonly absolute: Buffer;
  readonly root: string;
}

/**
 * The wanted files below a folder, sorted by path; hidden folders and `node_modules` left out, links not followed.
 *
 * @param root real path of the folder
 * @param wanted told a file's name
 * @throws InputError `file-unreadable`, `tree-too-large`
 */
export function filesBelow(root: string, wanted: (name: string) => boolean, left: LeftOut): FoundFile[] {
  const found: FoundFile[] = [];
  const folders: { readonly absolute: Buffer; readonly text: string; readonly depth: number }[] = [
    { absolute: Buffer.from(root), text: '', depth: 0 },
  ];
  let looked = 0;
  for (let folder = folders.pop(); folder !== undefined; folder = folders.pop()) {
    for (const item of list(folder.absolute, folder.text, left)) {
      if (++looked > registryDefaults.maxTreeEntries)
        throw tooMany(root, registryDefaults.maxTreeEntries, 'files and folders');
      const name = pathText(item.name);
      const text = folder.text === '' ? name : `${folder.text}/${name}`;
      const absolute = Buffer.concat([folder.absolute, Buffer.from(path.sep), item.name]);
      if (item.isDirectory()) {
        if (isSkippedFolder(name)) continue;
        if (folder.depth >= registryDefaults.maxDepth) left.add('too-deep', text);
        else folders.push({ absolute, text, depth: folder.depth + 1 });
      } else if (item.isSymbolicLink()) {
        if (!isSkippedFolder(name)) left.add('link-skipped', text);
      } else if (wanted(name)) {
        if (!item.isFile()) left.add('special-skipped', text);
        else if (found.push({ text, absolute, root }) > registryDefaults.maxMeshFiles)
          throw tooMany(root, registryDefaults.maxMeshFiles, 'files to look at');
      }
    }
  }
  return found.sort((a, b) => byText(a.text, b.text));
}

function list(folder: Buffer, text: string, left: LeftOut): Dirent<Buffer>[] {
  try {
    return readdirSync(folder, { encoding: 'buffer', withFileTypes: true });
  } catch (error) {
    if (text === '' || !(readingError(error, text) instanceof InputError))
      throw readingError(error, folder.toString());
    left.add('folder-unreadable', text);
    return [];
  }
}

/** The error for a tree beyond the limits. */
export function tooMany(where: string, limit: number, what: string): InputError {
  return new InputError('tree-too-large', `There are more than ${limit} ${what}.`, 'Name a smaller folder.', {
    file: where,
  });
}
