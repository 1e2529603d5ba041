import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { contentDigest, type DigestKind } from './digest.ts';
import { fileSource } from './file-source.ts';
import { parseLfsPointer } from './lfs-pointer.ts';
import { problemError, tooLarge, unfetchedPointer, unreadable } from './problems.ts';
import type { EntryProblem, SnapshotEntry } from './types.ts';

/**
 * A file on this machine as an entry. What is wrong with it becomes the entry's problem; nothing is thrown.
 *
 * @param absolute as bytes when a folder walk found it: names need not be valid UTF-8
 * @param root the folder the file must lie in, or null when the user named the file
 */
export function fileEntry(
  text: string,
  absolute: Buffer | string,
  root: string | null,
  kind: DigestKind,
): SnapshotEntry {
  const look = lookAt(absolute, root, kind);
  const place = typeof absolute === 'string' ? absolute : utf8(absolute);
  return {
    path: text,
    size: look.size,
    digest: look.digest,
    problem: look.problem,
    place: place === null || look.problem !== null ? null : { kind: 'file', path: place, root },
    open: () =>
      new Promise(resolve => {
        if (look.problem !== null) throw problemError(look.problem, text);
        resolve(fileSource(absolute, root));
      }),
  };
}

interface Look {
  readonly size: number | null;
  readonly digest: string | null;
  readonly problem: EntryProblem | null;
}

function lookAt(file: Buffer | string, root: string | null, kind: DigestKind): Look {
  try {
    const source = fileSource(file, root);
    try {
      const { size } = source;
      if (size > registryDefaults.maxFileBytes)
        return { size, digest: null, problem: tooLarge(size, registryDefaults.maxFileBytes) };
      const digest = contentDigest(source, kind);
      if (size >= registryDefaults.lfsPointerBytes) return { size, digest, problem: null };
      const bytes = new Uint8Array(size);
      const pointer = parseLfsPointer(bytes.subarray(0, source.read(0, bytes)));
      return { size, digest, problem: pointer === null ? null : unfetchedPointer(pointer) };
    } finally {
      source.close();
    }
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { size: null, digest: null, problem: unreadable(error.message) };
  }
}

/** The path as text, or null when it has none that Node would turn back into the same bytes. */
function utf8(bytes: Buffer): string | null {
  const text = bytes.toString('utf8');
  return Buffer.from(text, 'utf8').equals(bytes) ? text : null;
}
