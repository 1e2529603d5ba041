import { readAndClose } from '../snapshot/read-and-close.ts';
import type { GitObjects } from './objects.ts';

/** Tags of tags of tags: nobody means more. */
const maxPeel = 16;

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
    const line = Buffer.from(readAndClose(object.content).subarray(0, 100)).toString('latin1');
    const next = /^object ([0-9a-f]{40,64})\n/.exec(line)?.[1];
    if (next === undefined) return null;
    id = next;
  }
  return null;
}
