import { realpathSync, statSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { readingError } from '../../snapshot/file-source.ts';
import { fileEntry } from '../../snapshot/file-entry.ts';
import { filesBelow } from '../../snapshot/from-folder.ts';
import { leftOut } from '../../snapshot/left-out.ts';
import type { DigestKind } from '../../snapshot/digest.ts';
import { fileKind } from './file-kind.ts';
import type { Source, SourceFile } from './types.ts';

/**
 * A folder as it lies, without any history.
 *
 * @throws InputError `file-not-found`, `file-not-regular`, `file-unreadable`, `tree-too-large`
 */
export function sourceFromFolder(place: string, digest: DigestKind = 'sha256'): Source {
  requireFolder(place);
  const root = realpathSync(place);
  const left = leftOut();
  const found = filesBelow(root, name => !name.startsWith('.'), left);
  const files = found.flatMap((file): SourceFile[] => {
    const kind = fileKind(file.text);
    return kind === null ? [] : [{ ...fileEntry(file.text, file.absolute, file.root, digest), kind }];
  });
  return {
    name: place,
    folder: path.basename(root),
    states: [{ commit: null, files }],
    otherFiles: found.length - files.length,
    notes: left.notes(),
    close: () => Promise.resolve(),
  };
}

/** @throws InputError `file-not-regular`, or what keeps it from being looked at */
export function requireFolder(place: string): void {
  let isFolder: boolean;
  try {
    isFolder = statSync(place).isDirectory();
  } catch (error) {
    throw readingError(error, place);
  }
  if (!isFolder)
    throw new InputError('file-not-regular', 'This is a file, not a folder.', 'Name the folder it lies in.', {
      file: place,
    });
}
