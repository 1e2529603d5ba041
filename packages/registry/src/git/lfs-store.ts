import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { contentDigest } from '../snapshot/digest.ts';
import { fileSource } from '../snapshot/file-source.ts';
import type { LfsPointer } from '../snapshot/lfs-pointer.ts';
import { damagedPointer, problemError, unfetchedPointer } from '../snapshot/problems.ts';
import type { EntryProblem, OpenSource } from '../snapshot/types.ts';

/**
 * What keeps a pointer's content from being read, as far as can be told without reading it; null when the local
 * store (`lfs/objects/aa/bb/<id>` in the git folder) has a file of the right size.
 */
export function lfsProblem(commonFolder: string, pointer: LfsPointer): EntryProblem | null {
  try {
    const source = fileSource(storePath(commonFolder, pointer), commonFolder);
    source.close();
    return source.size === pointer.size ? null : damagedPointer(pointer);
  } catch (error) {
    if (error instanceof InputError) return unfetchedPointer(pointer);
    throw error;
  }
}

/**
 * Opens a pointer's content after checking that its SHA-256 is the one named.
 *
 * @throws InputError `lfs-damaged`, `file-not-found`, `file-unreadable`
 */
export function openLfs(commonFolder: string, pointer: LfsPointer, file: string): OpenSource {
  const source = fileSource(storePath(commonFolder, pointer), commonFolder);
  if (contentDigest(source, 'sha256') === `sha256:${pointer.oid}`) return source;
  source.close();
  throw problemError(damagedPointer(pointer), file);
}

function storePath(commonFolder: string, { oid }: LfsPointer): string {
  return path.join(commonFolder, 'lfs', 'objects', oid.slice(0, 2), oid.slice(2, 4), oid);
}
