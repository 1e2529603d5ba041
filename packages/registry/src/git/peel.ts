import { readAndClose } from '../snapshot/read-and-close.ts';
import { maxPeel, parseTag } from './commit-head.ts';
import type { GitObjects } from './objects.ts';

/** The commit that an id names or tags; null when it names none, or the objects are not there. */
export async function commitOf(objects: GitObjects, start: string): Promise<string | null> {
  let id = start;
  for (let i = 0; i < maxPeel; i++) {
    const object = await objects.read(id);
    if (object.state !== 'found') return null;
    if (object.type !== 'tag') {
      object.content.close();
      return object.type === 'commit' ? id : null;
    }
    const next = parseTag(readAndClose(object.content));
    if (next === null) return null;
    id = next;
  }
  return null;
}
