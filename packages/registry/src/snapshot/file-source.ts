import { closeSync, constants, fstatSync, openSync, readSync, realpathSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { pathText } from './path-text.ts';
import type { OpenSource } from './types.ts';

/**
 * A file as a byte source, read piece by piece.
 *
 * @param file the path
 * @param root when given, the file must lie inside this folder and must not be a link: for files that a folder
 *   walk found, which a stranger may have made. Without it, links are followed: the user named the file.
 * @throws InputError `file-not-found`, `file-not-regular`, `file-outside`, `file-unreadable`
 */
export function fileSource(file: string | Buffer, root: string | null = null): OpenSource {
  const name = typeof file === 'string' ? file : pathText(file);
  const noLinks = root === null ? 0 : constants.O_NOFOLLOW;
  let descriptor: number;
  try {
    if (root !== null) requireInside(file, root);
    // Without O_NONBLOCK, opening a named pipe would wait for a writer for ever.
    descriptor = openSync(file, constants.O_RDONLY | constants.O_NONBLOCK | noLinks);
  } catch (error) {
    throw readingError(error, name);
  }
  const stat = fstatSync(descriptor);
  if (!stat.isFile()) {
    closeSync(descriptor);
    const what = stat.isDirectory() ? 'This is a folder, not a file.' : 'This is not a regular file.';
    throw new InputError('file-not-regular', what, 'Name a mesh file.', { file: name });
  }
  return descriptorSource(descriptor, name);
}

/** What an open file holds, as a byte source that closes it. @param name for errors */
export function descriptorSource(descriptor: number, name: string): OpenSource {
  let open = true;
  return {
    size: fstatSync(descriptor).size,
    read(offset, into) {
      let done = 0;
      while (done < into.length) {
        const count = readPiece(descriptor, into, done, offset + done, name);
        if (count === 0) break;
        done += count;
      }
      return done;
    },
    close() {
      if (open) closeSync(descriptor);
      open = false;
    },
  };
}

function readPiece(descriptor: number, into: Uint8Array, at: number, offset: number, file: string): number {
  try {
    return readSync(descriptor, into, at, into.length - at, offset);
  } catch (error) {
    throw readingError(error, file);
  }
}

function requireInside(file: string | Buffer, root: string): void {
  // The system's own: Node's asks it for every folder on the way, for each of thousands of files.
  const inside = asFolder(realpathSync.native(root, 'buffer'));
  const folder = asFolder(realpathSync.native(parent(file), 'buffer'));
  if (!folder.subarray(0, inside.length).equals(inside))
    throw new InputError(
      'file-outside',
      'The path leads out of the folder.',
      'Compare the folder it leads to instead.',
      {
        file: pathText(Buffer.from(file)),
      },
    );
}

/** With a separator at the end, so that `/parts-old` does not lie in `/parts`. */
function asFolder(folder: Buffer): Buffer {
  const separator = Buffer.from(path.sep);
  return folder.subarray(-1).equals(separator) ? folder : Buffer.concat([folder, separator]);
}

function parent(file: string | Buffer): string | Buffer {
  return typeof file === 'string'
    ? path.dirname(file)
    : file.subarray(0, Math.max(1, file.lastIndexOf(path.sep)));
}

/** Turns an error of the operating system into what a user can act on; passes everything else on. */
export function readingError(error: unknown, file: string): unknown {
  const code = systemCode(error);
  if (code === null) return error;
  if (code === 'ENOENT' || code === 'ENOTDIR')
    return new InputError('file-not-found', 'There is no such file.', 'Check the path.', { file });
  if (code === 'ELOOP')
    return new InputError(
      'file-not-regular',
      'This is a link, and links are not followed here.',
      'Name the file it leads to.',
      { file },
    );
  return new InputError(
    'file-unreadable',
    `The file cannot be read (${code}).`,
    'Check that it exists and that you may read it.',
    { file },
  );
}

function systemCode(error: unknown): string | null {
  return error instanceof Error && 'syscall' in error && 'code' in error && typeof error.code === 'string'
    ? error.code
    : null;
}
