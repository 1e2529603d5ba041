import { createHash, randomBytes } from 'node:crypto';
import { cpSync, copyFileSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { removeAbandoned } from '../../git/abandoned.ts';
import { copySource } from '../../snapshot/copy-source.ts';
import type { SnapshotEntry } from '../../snapshot/types.ts';

/** A content that was copied beside the registry's files. */
export interface StagedFile {
  readonly file: string;
  /** In hex. */
  readonly sha256: string;
}

/**
 * A folder within git's own in which everything is made ready, so that a new device appears in one step and nothing of
 * an unfinished one is seen.
 */
export interface Stage {
  /** Copies a content; each is copied once. @throws InputError when it cannot be read */
  copy(entry: SnapshotEntry): Promise<StagedFile>;
  /** Keeps a text likewise. */
  text(text: string): StagedFile;
  /** Puts a staged content, or a text, at a path of the device's folder. */
  place(to: string, content: StagedFile | string): void;
  /** Moves what was placed to where it belongs, in one step; false when something stands there meanwhile. */
  appear(): boolean;
  remove(): void;
}

const prefix = 'kinprint-adopt-';

/**
 * @param gitFolder of the working copy
 * @param target the device's folder, which is not there yet
 */
export function openStage(gitFolder: string, target: string): Stage {
  const folder = path.join(gitFolder, `${prefix}${process.pid}-${randomBytes(4).toString('hex')}`);
  const [blobs, ready] = [path.join(folder, 'blobs'), path.join(folder, 'ready')];
  mkdirSync(blobs, { recursive: true });
  mkdirSync(ready);
  const known = new Map<string, Promise<StagedFile>>();
  let texts = 0;

  async function copy(entry: SnapshotEntry): Promise<StagedFile> {
    const file = path.join(blobs, String(known.size));
    const source = await entry.open();
    try {
      const sha256 = copySource(source, file);
      if (sha256 === null) throw changed(entry);
      return { file, sha256 };
    } finally {
      source.close();
    }
  }

  return {
    copy(entry) {
      const key = entry.digest ?? `path ${entry.path}`;
      const staged = known.get(key) ?? copy(entry);
      known.set(key, staged);
      return staged;
    },
    text(text) {
      const file = path.join(folder, `text-${texts++}`);
      writeFileSync(file, text, { flag: 'wx', mode: 0o644, flush: true });
      return { file, sha256: createHash('sha256').update(text).digest('hex') };
    },
    place(to, content) {
      const file = path.join(ready, to);
      mkdirSync(path.dirname(file), { recursive: true });
      if (typeof content !== 'string') copyFileSync(content.file, file);
      else writeFileSync(file, content, { flag: 'wx', mode: 0o644, flush: true });
    },
    appear() {
      mkdirSync(path.dirname(target), { recursive: true });
      return moveFolder(ready, target);
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** False when something stands there. */
function moveFolder(from: string, to: string): boolean {
  try {
    renameSync(from, to);
    return true;
  } catch (error) {
    if (hasCode(error, ['ENOTEMPTY', 'EEXIST', 'ENOTDIR', 'EISDIR'])) return false;
    if (!hasCode(error, ['EXDEV'])) throw error;
  }
  // git's folder lies on another disk. What begins with a dot is no part of a registry.
  const beside = path.join(path.dirname(to), `.${path.basename(path.dirname(from))}`);
  try {
    cpSync(from, beside, { recursive: true });
    return moveFolder(beside, to);
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}

function changed(entry: SnapshotEntry): InputError {
  return new InputError(
    'changed-meanwhile',
    'The file changed while it was read.',
    'Nothing was adopted. Try again.',
    {
      file: entry.path,
    },
  );
}

function hasCode(error: unknown, codes: readonly string[]): boolean {
  return error instanceof Error && 'code' in error && codes.includes(String(error.code));
}

/** Removes what adoptions that were killed left in git's folder. */
export function clearAbandoned(gitFolder: string): void {
  removeAbandoned(gitFolder, new RegExp(`^${prefix}([0-9]+)-[0-9a-f]{8}$`));
}
