import { byText } from '@kinprint/compare';
import { registryDefaults } from '../defaults.ts';
import { isSkippedFolder, mayBeMesh } from '../snapshot/candidate.ts';
import { tooMany } from '../snapshot/from-folder.ts';
import type { LeftOut } from '../snapshot/left-out.ts';
import { pathText } from '../snapshot/path-text.ts';
import type { GitObjects } from './objects.ts';
import { readTree } from './read-tree.ts';

/** A mesh file that a tree names. */
export interface TreeFile {
  readonly path: string;
  readonly id: string;
}

interface Folder {
  readonly id: string;
  readonly path: string;
}

/**
 * All mesh files below a tree object, by the rules of a folder on disk. Folders whose objects are missing or
 * damaged are noted and left out; links and submodules are noted and not followed.
 *
 * @param where names the tree in errors
 * @throws InputError `tree-too-large`
 */
export async function meshFilesOfTree(
  objects: GitObjects,
  root: string,
  where: string,
  left: LeftOut,
): Promise<TreeFile[]> {
  const files: TreeFile[] = [];
  let looked = 0;
  let level: Folder[] = [{ id: root, path: '' }];
  for (let depth = 0; level.length > 0; depth++) {
    const below: Folder[] = [];
    for (const batch of batches(level, 256)) {
      const trees = await Promise.all(batch.map(folder => readTree(objects, folder.id)));
      for (const [i, tree] of trees.entries()) {
        const folder = batch[i];
        if (typeof tree === 'string') {
          left.add(
            tree === 'missing' ? 'folder-missing' : 'folder-damaged',
            folder.path === '' ? '/' : folder.path,
          );
          continue;
        }
        looked += tree.length;
        if (looked > registryDefaults.maxTreeEntries)
          throw tooMany(where, registryDefaults.maxTreeEntries, 'files and folders');
        for (const item of tree) {
          const name = pathText(item.name);
          const path = folder.path === '' ? name : `${folder.path}/${name}`;
          switch (item.kind) {
            case 'folder':
              if (isSkippedFolder(name)) break;
              if (depth >= registryDefaults.maxDepth) left.add('too-deep', path);
              else below.push({ id: item.id, path });
              break;
            case 'file':
              if (mayBeMesh(name)) files.push({ path, id: item.id });
              break;
            case 'link':
              if (!isSkippedFolder(name)) left.add('link-skipped', path);
              break;
            case 'submodule':
              left.add('submodule-skipped', path);
          }
        }
        if (files.length > registryDefaults.maxMeshFiles)
          throw tooMany(where, registryDefaults.maxMeshFiles, 'mesh files');
      }
    }
    level = below;
  }
  return files.sort((a, b) => byText(a.path, b.path));
}

function* batches<T>(items: readonly T[], size: number): Generator<readonly T[]> {
  for (let at = 0; at < items.length; at += size) yield items.slice(at, at + size);
}
