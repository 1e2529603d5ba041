import { closeSync, openSync, unlinkSync, writeSync } from 'node:fs';
import path from 'node:path';
import { bytesSource } from '@kinprint/mesh';
import { fileSource } from '../snapshot/file-source.ts';
import type { OpenSource } from '../snapshot/types.ts';

/** Takes an object's bytes as they come and makes a source of them. */
export interface Collector {
  add(piece: Uint8Array): void;
  finish(): OpenSource;
  /** Gives up: nothing is kept. */
  abandon(): void;
}

let files = 0;

/**
 * A collector for `size` bytes: in memory up to `memoryLimit`, else in a file in `folder` that goes when the source
 * is closed. Never more than `size` bytes must be added.
 */
export function collector(size: number, folder: string, memoryLimit: number): Collector {
  return size <= memoryLimit
    ? inMemory(size)
    : inFile(path.join(folder, `content-${process.pid}-${files++}`));
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

function inFile(file: string): Collector {
  const descriptor = openSync(file, 'wx', 0o600);
  return {
    add(piece) {
      for (let done = 0; done < piece.length;) done += writeSync(descriptor, piece, done);
    },
    finish() {
      closeSync(descriptor);
      const source = fileSource(file);
      // The open source keeps the bytes; the name can go at once, so nothing is left behind after a crash.
      unlinkSync(file);
      return source;
    },
    abandon() {
      closeSync(descriptor);
      unlinkSync(file);
    },
  };
}
