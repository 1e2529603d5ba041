/** Writes whole numbers, small ones in fewer bytes: seven bits each, the lowest first, the top bit set on all but the last. */
export interface NumberWriter {
  /** @param value whole, 0 … 2³²−1 */
  unsigned(value: number): void;
  /** @param value whole, −2³¹ … 2³¹−1; its sign becomes the lowest bit. */
  signed(value: number): void;
  bytes(): Uint8Array;
}

export function numberWriter(): NumberWriter {
  let buffer = new Uint8Array(1024);
  let length = 0;
  const unsigned = (value: number): void => {
    if (length + 5 > buffer.length) {
      const larger = new Uint8Array(2 * buffer.length);
      larger.set(buffer);
      buffer = larger;
    }
    let rest = value >>> 0;
    while (rest > 0x7f) {
      buffer[length++] = (rest & 0x7f) | 0x80;
      rest >>>= 7;
    }
    buffer[length++] = rest;
  };
  return {
    unsigned,
    signed: value => unsigned((value << 1) ^ (value >> 31)),
    bytes: () => buffer.subarray(0, length),
  };
}

/** Reads what a `NumberWriter` wrote. */
export interface NumberReader {
  unsigned(): number;
  signed(): number;
  /** Whether all bytes were read. */
  atEnd(): boolean;
}

/** @throws Error where the bytes end within a number, or one does not fit 32 bits */
export function numberReader(bytes: Uint8Array): NumberReader {
  let at = 0;
  const unsigned = (): number => {
    let value = 0;
    for (let shift = 0; shift < 35; shift += 7) {
      if (at >= bytes.length) throw new Error('The geometry ends too early.');
      const byte = bytes[at++];
      if (shift === 28 && byte > 0x0f) break;
      value |= (byte & 0x7f) << shift;
      if (byte < 0x80) return value >>> 0;
    }
    throw new Error('A number of the geometry is too large.');
  };
  return {
    unsigned,
    signed: () => {
      const folded = unsigned();
      return (folded >>> 1) ^ -(folded & 1);
    },
    atEnd: () => at === bytes.length,
  };
}
