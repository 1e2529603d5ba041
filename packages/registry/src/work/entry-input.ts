import type { SnapshotEntry } from '../snapshot/types.ts';
import type { FileContent, FileInput } from './task.ts';

/**
 * An entry as a task's input. For another thread: its place where it is a file, else its bytes.
 *
 * @throws InputError when the entry has no content
 */
export async function entryInput(
  entry: SnapshotEntry,
  body: number | null,
  threads: boolean,
): Promise<FileInput> {
  return { name: entry.path, content: await contentOf(entry, threads), body };
}

async function contentOf(entry: SnapshotEntry, threads: boolean): Promise<FileContent> {
  if (threads && entry.place !== null) return entry.place;
  const source = await entry.open();
  if (!threads) return { kind: 'source', source };
  try {
    const bytes = new Uint8Array(source.size);
    return { kind: 'bytes', bytes: bytes.subarray(0, source.read(0, bytes)) };
  } finally {
    source.close();
  }
}
