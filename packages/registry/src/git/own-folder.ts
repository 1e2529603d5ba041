import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { ObjectFormat } from './objects.ts';

/** An empty git folder of our own in the temporary folder. */
export interface OwnFolder {
  readonly path: string;
  /** Removes it. Also happens when the process ends. */
  remove(): void;
}

/**
 * Makes a git folder that knows nothing: no remotes, no programs, no promises. Objects are read through it from
 * another repository's store, so that no line of that repository's configuration takes effect: in particular, a
 * partial clone's missing objects are simply missing, where git would fetch them or give up altogether.
 */
export function makeOwnFolder(format: ObjectFormat): OwnFolder {
  const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-git-'));
  for (const name of ['refs', 'objects']) mkdirSync(path.join(folder, name));
  writeFileSync(path.join(folder, 'HEAD'), 'ref: refs/heads/none\n');
  writeFileSync(
    path.join(folder, 'config'),
    // Blobs above the threshold are streamed by git instead of being unpacked in its memory.
    format === 'sha1'
      ? '[core]\n\trepositoryFormatVersion = 0\n\tbare = true\n\tbigFileThreshold = 16m\n'
      : '[core]\n\trepositoryFormatVersion = 1\n\tbare = true\n\tbigFileThreshold = 16m\n[extensions]\n\tobjectFormat = sha256\n',
  );
  const remove = () => {
    process.off('exit', remove);
    rmSync(folder, { recursive: true, force: true });
  };
  process.on('exit', remove);
  return { path: folder, remove };
}
