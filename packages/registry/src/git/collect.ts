import { randomBytes } from 'node:crypto';
import { closeSync, openSync, unlinkSync, writeSync } from 'node:fs';
import path from 'node:path';
import { bytesSource } from '@kinprint/mesh';
import { descriptorSource } from '../snapshot/file-source.ts';
import type { OpenSource } from '../snapshot/types.ts';

/** Takes an object's bytes as they come and makes a source of them. */
export interface Collector {
  add(piece: Uint8Array): void;
  finish(): OpenSource;
  /** Gives up: nothing is kept. */
  abandon(): void;
}

/**
 * A collector for `size` bytes: in memory up to `memoryLimit`, else in a file in `folder` that has no name by the time
 * anything is written, so that nothing is left however the process ends. Never more than `size` bytes must be added.
 */
export function collector(size: number, folder: string, memoryLimit: number): Collector {
  return size <= memoryLimit ? inMemory(size) : inFile(folder);
}

function inMemory(size: number): Collector {
  const bytes = new Uint8Array(size);
  let filled = 0;
  return {
    add(piece) {
      bytes.set(piece, filled);
      filled += piece.length;
    },
    finish: () => ({ ...bytesSource(bytes), close: () => undefined }),
    abandon: () => undefined,
  };
}

function inFile(folder: string): Collector {
  const file = path.join(folder, `kinprint-content-${process.pid}-${randomBytes(6).toString('hex')}`);
  const descriptor = openSync(file, 'wx+', 0o600);
  unlinkSync(file);
  return {
    add(piece) {
      for (let done = 0; done < piece.length;) done += writeSync(descriptor, piece, done);
    },
    finish: () => descriptorSource(descriptor, file),
    abandon: () => closeSync(descriptor),
  };
}
