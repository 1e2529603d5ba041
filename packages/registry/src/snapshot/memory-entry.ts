import { bytesSource } from '@kinprint/mesh';
import type { SnapshotEntry } from './types.ts';

/** An entry whose content was made here and lies in no file. */
export function memoryEntry(path: string, bytes: Uint8Array): SnapshotEntry {
  return {
    path,
    size: bytes.length,
    digest: null,
    problem: null,
    place: null,
    open: () => Promise.resolve({ ...bytesSource(bytes), close: () => undefined }),
  };
}
