import { registryDefaults } from '../defaults.ts';
import { parseLfsPointer, type LfsPointer } from '../snapshot/lfs-pointer.ts';
import { missingObject, problemError, tooLarge, unreadable } from '../snapshot/problems.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { EntryProblem, OpenSource } from '../snapshot/types.ts';
import type { GitObjects, ObjectSize } from './objects.ts';

/** What keeps the content of a file in a tree from being read, as far as its size tells; null when nothing does. */
export function sizeProblem(id: string, size: ObjectSize): EntryProblem | null {
  if (size === 'missing') return missingObject(id);
  if (size === 'damaged') return damaged(id, 'git could not read it.');
  return size > registryDefaults.maxFileBytes ? tooLarge(size, registryDefaults.maxFileBytes) : null;
}

/** The large-file pointer that a file in a tree is; null when it is none, or cannot be read. */
export async function pointerOf(
  objects: GitObjects,
  id: string,
  size: ObjectSize,
): Promise<LfsPointer | null> {
  if (typeof size !== 'number' || size >= registryDefaults.lfsPointerBytes) return null;
  const object = await objects.read(id);
  return object.state === 'found' ? parseLfsPointer(readAndClose(object.content)) : null;
}

/**
 * Opens a file in a tree; the caller closes it.
 *
 * @param file names it in errors
 * @throws InputError `missing`, `unreadable`
 */
export async function openBlob(objects: GitObjects, id: string, file: string): Promise<OpenSource> {
  const object = await objects.read(id);
  if (object.state === 'missing') throw problemError(missingObject(id), file);
  if (object.state === 'damaged') throw problemError(damaged(id, object.text), file);
  if (object.type === 'blob') return object.content;
  object.content.close();
  throw problemError(damaged(id, `It is a ${object.type}, not a file.`), file);
}

function damaged(id: string, why: string): EntryProblem {
  return unreadable(`The object ${id} is damaged: ${why}`);
}
