import { registryDefaults } from '../../defaults.ts';
import type { GitObjects } from '../../git/objects.ts';
import { readTree } from '../../git/read-tree.ts';
import { isSkippedFolder } from '../../snapshot/candidate.ts';
import { tooMany } from '../../snapshot/from-folder.ts';
import type { LeftOut } from '../../snapshot/left-out.ts';
import { pathText } from '../../snapshot/path-text.ts';

/** A file in a tree, with its path from that tree. */
export interface ListedFile {
  readonly path: string;
  readonly id: string;
}

/** Lists trees of one history: a folder that did not change from commit to commit is read once. */
export interface TreeLister {
  /** All files below a tree, sorted by name folder by folder; the same array for the same tree. */
  list(tree: string): Promise<readonly ListedFile[]>;
}

/**
 * A lister that leaves out hidden names, packages, links and submodules; missing and damaged folders are noted.
 *
 * @param where names the history in errors
 * @throws InputError `tree-too-large` from `list`
 */
export function treeLister(objects: GitObjects, where: string, left: LeftOut): TreeLister {
  const known = new Map<string, Promise<readonly ListedFile[]>>();
  const noted = new Set<string>();
  const note = (code: Parameters<LeftOut['add']>[0], path: string): void => {
    if (noted.has(`${code} ${path}`)) return;
    noted.add(`${code} ${path}`);
    left.add(code, path);
  };

  async function read(id: string, path: string, depth: number): Promise<readonly ListedFile[]> {
    const tree = await readTree(objects, id);
    if (typeof tree === 'string') {
      note(tree === 'missing' ? 'folder-missing' : 'folder-damaged', path || '/');
      return [];
    }
    const files: ListedFile[] = [];
    for (const item of tree) {
      const name = pathText(item.name);
      const place = path === '' ? name : `${path}/${name}`;
      if (name.startsWith('.')) continue;
      if (item.kind === 'file') files.push({ path: name, id: item.id });
      else if (item.kind === 'link') note('link-skipped', place);
      else if (item.kind === 'submodule') note('submodule-skipped', place);
      else if (isSkippedFolder(name)) continue;
      else if (depth >= registryDefaults.maxDepth) note('too-deep', place);
      else
        for (const file of await below(item.id, place, depth + 1))
          files.push({ ...file, path: `${name}/${file.path}` });
      if (files.length > registryDefaults.maxMeshFiles)
        throw tooMany(where, registryDefaults.maxMeshFiles, 'files in one commit');
    }
    return files;
  }

  function below(id: string, path: string, depth: number): Promise<readonly ListedFile[]> {
    const listed = known.get(id);
    if (listed !== undefined) return listed;
    const reading = read(id, path, depth);
    known.set(id, reading);
    return reading;
  }

  return { list: tree => below(tree, '', 0) };
}
