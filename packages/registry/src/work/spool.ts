import { mkdtempSync, rmSync } from 'node:fs';
import { readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { deserialize, serialize } from 'node:v8';
import { atExit } from '../at-exit.ts';

/** A record that is kept for later. */
export interface Spooled<T> {
  get(): Promise<T>;
  /** It is not needed any more. */
  drop(): Promise<void>;
}

/** Keeps plain records with large arrays: in memory as far as they fit, else in files in the temporary folder. */
export interface Spool<T> {
  put(value: T): Promise<Spooled<T>>;
  /** Removes all of it; also happens when the process ends, by itself or by a signal. */
  close(): Promise<void>;
}

/** @param memory_bytes arrays and texts up to so many bytes in all stay in memory */
export function openSpool<T>(memory_bytes: number): Spool<T> {
  let held_bytes = 0;
  let files = 0;
  let folder: { readonly path: string; readonly remove: () => void } | null = null;
  return {
    async put(value) {
      const bytes = bytesOf(value);
      if (held_bytes + bytes <= memory_bytes) {
        held_bytes += bytes;
        let kept: { readonly value: T } | null = { value };
        return {
          get: () =>
            kept === null ? Promise.reject(new Error('It was dropped.')) : Promise.resolve(kept.value),
          drop() {
            if (kept !== null) held_bytes -= bytes;
            kept = null;
            return Promise.resolve();
          },
        };
      }
      folder ??= ownFolder();
      const file = path.join(folder.path, String(++files));
      await writeFile(file, serialize(value), { flag: 'wx', mode: 0o600 });
      return {
        get: async () => deserialize(await readFile(file)) as T,
        drop: () => rm(file, { force: true }),
      };
    },
    close() {
      folder?.remove();
      folder = null;
      return Promise.resolve();
    },
  };
}

function ownFolder() {
  const made = mkdtempSync(path.join(tmpdir(), 'kinprint-spool-'));
  const removeNow = (): void => rmSync(made, { recursive: true, force: true });
  const takeBack = atExit(removeNow);
  return {
    path: made,
    remove: () => {
      takeBack();
      removeNow();
    },
  };
}

/** What the arrays and texts of plain data take up, near enough. */
function bytesOf(data: unknown): number {
  if (typeof data === 'string') return data.length;
  if (typeof data !== 'object' || data === null) return 8;
  if (ArrayBuffer.isView(data)) return data.byteLength;
  return Object.values(data).reduce<number>((sum, value) => sum + bytesOf(value), 16);
}
