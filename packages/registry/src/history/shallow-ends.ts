import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import type { Repository } from '../git/repository.ts';
import { fileSource } from '../snapshot/file-source.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';

/** Commits at which a shallow clone ends: their parents are left out on purpose, and are not missing. */
export function shallowEnds({ shallow, commonFolder }: Repository): ReadonlySet<string> {
  if (!shallow) return new Set();
  try {
    const bytes = readAndClose(fileSource(path.join(commonFolder, 'shallow'), commonFolder), mostBytes);
    return new Set(
      Buffer.from(bytes)
        .toString('latin1')
        .match(/^[0-9a-f]{40,64}$/gm) ?? [],
    );
  } catch (error) {
    if (error instanceof InputError) return new Set();
    throw error;
  }
}

/** A line of 41 bytes for each end: more branches than anybody has. */
const mostBytes = 16 * 1024 ** 2;
