/**
 * Bytes that can be read at any place, so that a large file need never be in memory whole. Handed in by whoever
 * knows files; `mesh` itself knows none.
 */
export interface ByteSource {
  readonly size: number;
  /**
   * Fills `into` from byte `offset` on; returns how many bytes were there (fewer only at the end).
   */
  read(offset: number, into: Uint8Array): number;
}

/** A source over bytes in memory. */
export function bytesSource(bytes: Uint8Array): ByteSource {
  return {
    size: bytes.length,
    read(offset, into) {
      const part = bytes.subarray(offset, offset + into.length);
      into.set(part);
      return part.length;
    },
  };
}
