import { byText } from '@kinprint/compare';
import { registryDefaults } from '../defaults.ts';
import { tooMany } from '../snapshot/from-folder.ts';
import type { LeftOut } from '../snapshot/left-out.ts';
import { pathText } from '../snapshot/path-text.ts';
import type { GitObjects } from './objects.ts';
import { readTree } from './read-tree.ts';
import type { TreeItem } from './tree-object.ts';

/** A name in a tree that is no folder. */
export interface TreeEntry {
  readonly path: string;
  readonly id: string;
  readonly kind: Exclude<TreeItem['kind'], 'folder'>;
}

/**
 * Everything below a tree object, sorted by path; hidden names left out. Folders whose objects are missing or
 * damaged are noted and left out.
 *
 * @param top which names at the top are wanted
 * @param where names the tree in errors
 * @throws InputError `tree-too-large`
 */
export async function walkAll(
  objects: GitObjects,
  root: string,
  where: string,
  top: (name: string) => boolean,
  left: LeftOut,
): Promise<TreeEntry[]> {
  const found: TreeEntry[] = [];
  let looked = 0;
  let level: { readonly id: string; readonly path: string }[] = [{ id: root, path: '' }];
  for (let depth = 0; level.length > 0; depth++) {
    const below: typeof level = [];
    for (let at = 0; at < level.length; at += batch) {
      const folders = level.slice(at, at + batch);
      const trees = await Promise.all(folders.map(folder => readTree(objects, folder.id)));
      for (const [i, tree] of trees.entries()) {
        const folder = folders[i];
        if (typeof tree === 'string') {
          left.add(tree === 'missing' ? 'folder-missing' : 'folder-damaged', folder.path || '/');
          continue;
        }
        for (const item of tree) {
          const name = pathText(item.name);
          if (name.startsWith('.') || (depth === 0 && !top(name))) continue;
          if (++looked > registryDefaults.maxTreeEntries)
            throw tooMany(where, registryDefaults.maxTreeEntries, 'files and folders');
          const path = folder.path === '' ? name : `${folder.path}/${name}`;
          if (item.kind !== 'folder') found.push({ path, id: item.id, kind: item.kind });
          else if (depth >= registryDefaults.maxDepth) left.add('too-deep', path);
          else below.push({ id: item.id, path });
        }
      }
    }
    level = below;
  }
  return found.sort((a, b) => byText(a.path, b.path));
}

/** Trees asked for at a time. */
const batch = 256;
