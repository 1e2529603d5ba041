import { byText } from '@kinprint/compare';
import { InputError } from '@kinprint/mesh';
import { pathBytes, pathText } from '../snapshot/path-text.ts';
import { maxPeel, parseTag } from './commit-head.ts';
import { didYouMean, nearestNames } from './nearest.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { GitObjects, ObjectType } from './objects.ts';
import { readTree } from './read-tree.ts';
import type { RevisionSpec } from './revision-spec.ts';
import type { TreeItem } from './tree-object.ts';

/** What a git state turned out to name. */
export interface Found {
  readonly kind: 'file' | 'folder';
  readonly id: string;
}

/**
 * Finds the file or folder that a spec names, from the object its revision resolved to.
 *
 * @throws InputError `object-missing`, `object-damaged`, `path-not-found`, `path-not-regular`
 */
export async function findInRevision(objects: GitObjects, id: string, spec: RevisionSpec): Promise<Found> {
  const root = await peel(objects, id, spec);
  if (spec.path === '') return root;
  if (root.kind === 'file') throw notFound(spec, 'The revision names a file, which has no folders.', '');
  let folder = root.id;
  const parts = spec.path.split('/');
  for (const [i, part] of parts.entries()) {
    const tree = await readTree(objects, folder);
    const walked = parts.slice(0, i).join('/');
    if (typeof tree === 'string') throw unusable(tree, folder, spec);
    const item = itemNamed(tree, part);
    if (item === undefined) throw noSuchName(tree, part, walked, spec);
    const last = i === parts.length - 1;
    switch (item.kind) {
      case 'folder':
        folder = item.id;
        break;
      case 'file':
        if (last) return { kind: 'file', id: item.id };
        throw notFound(spec, `'${[...parts.slice(0, i), part].join('/')}' is a file, not a folder.`, '');
      case 'link':
      case 'submodule':
        throw new InputError(
          'path-not-regular',
          `'${[...parts.slice(0, i), part].join('/')}' is a ${item.kind === 'link' ? 'symbolic link' : 'submodule'}, which is not followed.`,
          'Name what it leads to.',
          { file: spec.text },
        );
    }
  }
  return { kind: 'folder', id: folder };
}

/** From tags to what they tag, from commits to their trees. */
async function peel(objects: GitObjects, start: string, spec: RevisionSpec): Promise<Found> {
  let id = start;
  for (let i = 0; i < maxPeel; i++) {
    const object = await objects.read(id);
    if (object.state !== 'found') throw unusable(object.state, id, spec);
    const { type, content } = object;
    if (type === 'blob' || type === 'tree') {
      content.close();
      return { kind: type === 'blob' ? 'file' : 'folder', id };
    }
    const next = pointedAt(type, readAndClose(content));
    if (next === null) throw unusable('damaged', id, spec);
    id = next;
  }
  throw unusable('damaged', start, spec);
}

function pointedAt(type: ObjectType, bytes: Uint8Array): string | null {
  if (type === 'tag') return parseTag(bytes);
  // Of a commit only the tree is wanted, so that whatever else is wrong with it is of no matter.
  const line = Buffer.from(bytes.subarray(0, 100)).toString('latin1');
  return /^tree ([0-9a-f]{40,64})\n/.exec(line)?.[1] ?? null;
}

function itemNamed(tree: readonly TreeItem[], name: string): TreeItem | undefined {
  const bytes = Buffer.from(pathBytes(name));
  return tree.find(item => bytes.equals(item.name));
}

function noSuchName(tree: readonly TreeItem[], part: string, walked: string, spec: RevisionSpec): InputError {
  const names = tree.map(item => pathText(item.name)).sort(byText);
  const prefix = walked === '' ? '' : `${walked}/`;
  return notFound(
    spec,
    `There is no '${prefix}${part}' in ${spec.revision}.`,
    didYouMean(nearestNames(part, names).map(name => prefix + name)),
  );
}

function notFound(spec: RevisionSpec, what: string, hint: string): InputError {
  return new InputError('path-not-found', what, `${hint}Write the path from the root of the repository.`, {
    file: spec.text,
  });
}

function unusable(state: 'missing' | 'damaged', id: string, spec: RevisionSpec): InputError {
  return state === 'missing'
    ? new InputError(
        'object-missing',
        `The repository does not hold the object ${id}.`,
        'Fetch it (this may be a partial or shallow clone).',
        {
          file: spec.text,
        },
      )
    : new InputError(
        'object-damaged',
        `The object ${id} is damaged.`,
        'Check the repository with git fsck.',
        { file: spec.text },
      );
}
