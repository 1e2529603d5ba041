import { createHash } from 'node:crypto';
import {
  closeSync,
  copyFileSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  rmdirSync,
  writeSync,
} from 'node:fs';
import { randomBytes } from 'node:crypto';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import type { SnapshotEntry } from '../../snapshot/types.ts';

/** A content that was copied beside the registry's files. */
export interface StagedFile {
  readonly file: string;
  /** In hex. */
  readonly sha256: string;
}

/**
 * A hidden folder in the registry in which everything is made ready, so that a new device appears in one step. A
 * hidden folder is no part of a registry.
 */
export interface Stage {
  /** Copies a content; each is copied once. @throws InputError when it cannot be read */
  copy(entry: SnapshotEntry): Promise<StagedFile>;
  /** Puts a staged content, or a text, at a path of the device's folder. */
  place(to: string, content: StagedFile | string): void;
  /** Moves what was placed to where it belongs, in one step; false when something stands there meanwhile. */
  appear(): boolean;
  remove(): void;
}

const prefix = '.kinprint-adopt-';

/** @param devices the registry's folder of devices, made where it is not there yet */
export function openStage(devices: string, device: string): Stage {
  const made = mkdirSync(devices, { recursive: true }) !== undefined;
  clearAbandoned(devices);
  const folder = path.join(devices, `${prefix}${process.pid}-${randomBytes(4).toString('hex')}`);
  const [blobs, ready] = [path.join(folder, 'blobs'), path.join(folder, 'ready')];
  mkdirSync(blobs, { recursive: true });
  mkdirSync(ready);
  const known = new Map<string, Promise<StagedFile>>();
  let appeared = false;

  async function copy(entry: SnapshotEntry): Promise<StagedFile> {
    const file = path.join(blobs, String(known.size));
    const source = await entry.open();
    const target = openSync(file, 'wx', 0o644);
    try {
      const hash = createHash('sha256');
      const piece = new Uint8Array(Math.min(source.size, 1 << 20));
      let offset = 0;
      while (offset < source.size) {
        const count = source.read(offset, piece);
        if (count === 0) break;
        hash.update(piece.subarray(0, count));
        writeAll(target, piece.subarray(0, count));
        offset += count;
      }
      if (offset !== source.size) throw changed(entry);
      fsyncSync(target);
      return { file, sha256: hash.digest('hex') };
    } finally {
      closeSync(target);
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
    place(to, content) {
      const file = path.join(ready, to);
      mkdirSync(path.dirname(file), { recursive: true });
      if (typeof content !== 'string') copyFileSync(content.file, file);
      else {
        const target = openSync(file, 'wx', 0o644);
        try {
          writeAll(target, Buffer.from(content));
          fsyncSync(target);
        } finally {
          closeSync(target);
        }
      }
    },
    appear() {
      try {
        renameSync(ready, path.join(devices, device));
        appeared = true;
      } catch (error) {
        if (!isTaken(error)) throw error;
      }
      return appeared;
    },
    remove() {
      rmSync(folder, { recursive: true, force: true });
      if (made && !appeared) removeEmpty(devices);
    },
  };
}

function writeAll(target: number, bytes: Uint8Array): void {
  for (let done = 0; done < bytes.length;) done += writeSync(target, bytes, done);
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

function isTaken(error: unknown): boolean {
  return (
    error instanceof Error &&
    'code' in error &&
    ['ENOTEMPTY', 'EEXIST', 'ENOTDIR', 'EISDIR'].includes(String(error.code))
  );
}

function removeEmpty(folder: string): void {
  try {
    rmdirSync(folder);
  } catch {
    // Somebody else has put something there.
  }
}

/** Removes what was left by an adoption that was killed. */
function clearAbandoned(devices: string): void {
  for (const name of readdirSync(devices)) {
    const id = name.startsWith(prefix)
      ? /^([0-9]+)-[0-9a-f]{8}$/.exec(name.slice(prefix.length))?.[1]
      : undefined;
    if (id !== undefined && !isAlive(Number(id)))
      rmSync(path.join(devices, name), { recursive: true, force: true });
  }
}

function isAlive(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
