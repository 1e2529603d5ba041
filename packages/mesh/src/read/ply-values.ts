import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import { plyTypeBytes, type PlyHeader, type PlyType } from './ply-header.ts';
import { quotedWord, scanError, wordNumber } from './text/scan-error.ts';
import { nextWord, scanText } from './text/text-scan.ts';

/** The numbers of a PLY file in their order. */
export interface PlyValues {
  /** The next number; truncation and damage are errors. */
  readonly next: (type: PlyType) => number;
  /** The error for a value that was just read and cannot be. */
  readonly error: (code: string, what: string) => InputError;
  /** Fewest bytes that a number of this type takes. */
  readonly leastBytes: (type: PlyType) => number;
  /** Bytes not yet read. */
  readonly left: () => number;
}

/** Bytes of binary data in memory at a time. */
const windowBytes = 1 << 18;

export function plyValues(source: ByteSource, header: PlyHeader): PlyValues {
  return header.encoding === 'ascii' ? textValues(source, header) : binaryValues(source, header);
}

function textValues(source: ByteSource, header: PlyHeader): PlyValues {
  const scan = scanText(source, header.dataOffset, header.dataLine);
  return {
    next() {
      if (nextWord(scan)) return wordNumber(scan, 'a value');
      scan.wordStart = scan.wordEnd = scan.at;
      throw scanError(scan, 'ply-truncated', 'the data end too early', 'Fetch or export the file again.');
    },
    error: (code, what) => scanError(scan, code, `${what} (${quotedWord(scan)})`, 'Export the file again.'),
    // A digit and a blank.
    leastBytes: () => 2,
    // The last number needs no blank behind it.
    left: () => source.size - (scan.offset + scan.at) + 1,
  };
}

function binaryValues(source: ByteSource, header: PlyHeader): PlyValues {
  const little = header.encoding === 'little';
  const buffer = new Uint8Array(Math.min(windowBytes, Math.max(8, source.size - header.dataOffset)));
  const view = new DataView(buffer.buffer);
  let offset = header.dataOffset;
  let at = 0;
  let end = 0;
  const error = (code: string, what: string) =>
    new InputError(code, what, 'Fetch or export the file again.', { byte: offset + at });
  return {
    next(type) {
      const size = plyTypeBytes[type];
      if (at + size > end) refill(size);
      at += size;
      return valueAt(view, at - size, type, little);
    },
    error,
    leastBytes: type => plyTypeBytes[type],
    left: () => source.size - (offset + at),
  };

  function refill(size: number): void {
    buffer.copyWithin(0, at, end);
    offset += at;
    end -= at;
    at = 0;
    end += source.read(offset + end, buffer.subarray(end));
    if (end < size) throw error('ply-truncated', 'the data end too early');
  }
}

function valueAt(view: DataView, at: number, type: PlyType, little: boolean): number {
  switch (type) {
    case 'int8':
      return view.getInt8(at);
    case 'uint8':
      return view.getUint8(at);
    case 'int16':
      return view.getInt16(at, little);
    case 'uint16':
      return view.getUint16(at, little);
    case 'int32':
      return view.getInt32(at, little);
    case 'uint32':
      return view.getUint32(at, little);
    case 'float32':
      return view.getFloat32(at, little);
    case 'float64':
      return view.getFloat64(at, little);
  }
}
