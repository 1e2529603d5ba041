import { readAndClose } from '../snapshot/read-and-close.ts';
import type { GitObjects } from './objects.ts';
import { parseTree, type TreeItem } from './tree-object.ts';

/** Trees are lists of names; one beyond this size is no folder anybody works with. */
const maxTreeBytes = 64 * 1024 ** 2;

/** A tree object's lines, or why they cannot be had. */
export async function readTree(
  objects: GitObjects,
  id: string,
): Promise<readonly TreeItem[] | 'missing' | 'damaged'> {
  const object = await objects.read(id);
  if (object.state !== 'found') return object.state;
  const { content } = object;
  if (object.type !== 'tree' || content.size > maxTreeBytes) {
    content.close();
    return 'damaged';
  }
  return parseTree(readAndClose(content), objects.format) ?? 'damaged';
}
