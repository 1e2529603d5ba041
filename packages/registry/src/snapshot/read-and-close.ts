import { contentDigest } from './digest.ts';
import type { OpenSource } from './types.ts';

/** SHA-256 of an open source in hex; closes it. */
export function hashAndClose(source: OpenSource): string {
  try {
    return contentDigest(source, 'sha256').slice('sha256:'.length);
  } finally {
    source.close();
  }
}

/** The first bytes of an open source, all by default; closes it. */
export function readAndClose(source: OpenSource, most: number = source.size): Uint8Array {
  try {
    const bytes = new Uint8Array(Math.min(source.size, most));
    return bytes.subarray(0, source.read(0, bytes));
  } finally {
    source.close();
  }
}
