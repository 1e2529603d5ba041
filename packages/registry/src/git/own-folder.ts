import { lstatSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { atExit } from '../at-exit.ts';
import { isAlive } from './abandoned.ts';
import type { ObjectFormat } from './objects.ts';

/** An empty git folder of our own in the temporary folder. */
export interface OwnFolder {
  readonly path: string;
  /** Removes it. Also happens when the process ends, by itself or by a signal. */
  remove(): void;
}

/**
 * Makes a git folder that knows nothing: no remotes, no programs, no promises. Objects are read through it from
 * another repository's store, so that no line of that repository's configuration takes effect: in particular, a
 * partial clone's missing objects are simply missing, where git would fetch them or give up altogether.
 */
export function makeOwnFolder(format: ObjectFormat): OwnFolder {
  if (!swept) removeAbandonedFolders();
  swept = true;
  const folder = mkdtempSync(path.join(tmpdir(), `kinprint-git-${process.pid}-`));
  const takeBack = atExit(removeNow);
  function removeNow(): void {
    rmSync(folder, { recursive: true, force: true });
  }
  for (const name of ['refs', 'objects']) mkdirSync(path.join(folder, name));
  writeFileSync(path.join(folder, 'HEAD'), 'ref: refs/heads/none\n');
  writeFileSync(
    path.join(folder, 'config'),
    // Blobs above the threshold are streamed by git instead of being unpacked in its memory.
    format === 'sha1'
      ? '[core]\n\trepositoryFormatVersion = 0\n\tbare = true\n\tbigFileThreshold = 16m\n'
      : '[core]\n\trepositoryFormatVersion = 1\n\tbare = true\n\tbigFileThreshold = 16m\n[extensions]\n\tobjectFormat = sha256\n',
  );
  return {
    path: folder,
    remove() {
      takeBack();
      removeNow();
    },
  };
}

let swept = false;

/** Where such folders live for milliseconds, one of this age is nobody's, even if its maker's id was given again. */
const abandonedAfter_ms = 3_600_000;

/**
 * Removes what killed processes left in the temporary folder, which others use, too: real folders of this user alone,
 * with our name and nothing but our files in them, of a process that is gone, untouched for an hour. (A process in a
 * container that shares the folder looks gone as well.) What cannot be removed stays.
 */
export function removeAbandonedFolders(folder: string = tmpdir(), now: number = Date.now()): void {
  try {
    for (const name of readdirSync(folder)) {
      const maker = /^kinprint-git-([0-9]+)-[A-Za-z0-9]{6}$/.exec(name)?.[1];
      if (maker === undefined || isAlive(Number(maker))) continue;
      const place = path.join(folder, name);
      const stat = lstatSync(place, { throwIfNoEntry: false });
      if (stat?.isDirectory() !== true || now - stat.mtimeMs < abandonedAfter_ms) continue;
      if (stat.uid !== (process.getuid?.() ?? stat.uid) || !readdirSync(place).every(isOurs)) continue;
      rmSync(place, { recursive: true, force: true });
    }
  } catch {
    // Tidying up keeps nobody from their work.
  }
}

function isOurs(name: string): boolean {
  return ['HEAD', 'config', 'refs', 'objects'].includes(name);
}
