import { createHash } from 'node:crypto';
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import type { ByteSource } from '@kinprint/mesh';

/**
 * Writes a content to a new file, piece by piece, and flushes it.
 *
 * @returns its SHA-256 in hex; null when it ended before its size, so that the copy is worth nothing
 * @throws what the file system objects to, also that something of that name is there
 */
export function copySource(source: ByteSource, file: string | Buffer): string | null {
  const out = openSync(file, 'wx', 0o644);
  try {
    const hash = createHash('sha256');
    const piece = new Uint8Array(Math.min(source.size, 1 << 20));
    let offset = 0;
    while (offset < source.size) {
      const count = source.read(offset, piece);
      if (count === 0) break;
      hash.update(piece.subarray(0, count));
      writeAll(out, piece.subarray(0, count));
      offset += count;
    }
    fsyncSync(out);
    return offset === source.size ? hash.digest('hex') : null;
  } finally {
    closeSync(out);
  }
}

function writeAll(target: number, bytes: Uint8Array): void {
  for (let done = 0; done < bytes.length;) done += writeSync(target, bytes, done);
}
