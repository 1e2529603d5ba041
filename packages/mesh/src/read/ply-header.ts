import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import { quotedWord, scanError, wordInteger } from './text/scan-error.ts';
import { nextLine, nextWordInLine, scanText, wordIs, wordText, type TextScan } from './text/text-scan.ts';

/** Bytes of each scalar type, under both of its names. */
const typeNames = {
  char: 'int8', uchar: 'uint8', short: 'int16', ushort: 'uint16', int: 'int32', uint: 'uint32',
  float: 'float32', double: 'float64',
  int8: 'int8', uint8: 'uint8', int16: 'int16', uint16: 'uint16', int32: 'int32', uint32: 'uint32',
  float32: 'float32', float64: 'float64',
} as const; // prettier-ignore

export type PlyType = (typeof typeNames)[keyof typeof typeNames];

export const plyTypeBytes: Readonly<Record<PlyType, number>> = {
  int8: 1,
  uint8: 1,
  int16: 2,
  uint16: 2,
  int32: 4,
  uint32: 4,
  float32: 4,
  float64: 8,
};

/** One property of an element; a list when `countType` is there. */
export interface PlyProperty {
  readonly name: string;
  readonly type: PlyType;
  readonly countType: PlyType | null;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: readonly PlyProperty[];
}

export interface PlyHeader {
  readonly encoding: 'ascii' | 'little' | 'big';
  readonly elements: readonly PlyElement[];
  /** Where the data begin. */
  readonly dataOffset: number;
  /** Line on which they begin, for text. */
  readonly dataLine: number;
}

/** Common practice, no source: far above any header in use, low enough to hold. */
const limits = { lines: 20_000, elements: 256, properties: 1024 };

/**
 * Reads the header of a PLY file.
 *
 * @throws {InputError} `ply-header` with the line.
 *
 * Format: polygon file format description, 1994.
 */
export function readPlyHeader(source: ByteSource): PlyHeader {
  const scan = scanText(source);
  const elements: { name: string; count: number; properties: PlyProperty[] }[] = [];
  let encoding: PlyHeader['encoding'] | null = null;
  while (nextLine(scan) && scan.line <= limits.lines) {
    if (!nextWordInLine(scan) || wordIs(scan, 'comment') || wordIs(scan, 'obj_info')) continue;
    if (wordIs(scan, 'end_header')) {
      if (encoding === null) throw headerError(scan, 'no format is stated');
      return { encoding, elements, dataOffset: endOfHeader(source, scan), dataLine: scan.line + 1 };
    }
    if (wordIs(scan, 'format')) {
      encoding = readFormat(scan);
    } else if (wordIs(scan, 'element')) {
      elements.push(readElement(scan));
      if (elements.length > limits.elements) throw headerError(scan, `more than ${limits.elements} elements`);
    } else if (wordIs(scan, 'property')) {
      const properties = elements.at(-1)?.properties;
      if (properties === undefined) throw headerError(scan, 'a property stands before any element');
      if (properties.length === limits.properties)
        throw headerError(scan, `more than ${limits.properties} properties`);
      properties.push(readProperty(scan));
    } else {
      throw headerError(scan, `${quotedWord(scan)} is no header keyword`);
    }
  }
  throw new InputError('ply-header', 'the header has no end_header', 'Fetch or export the file again.', {
    line: scan.line,
  });
}

function readFormat(scan: TextScan): PlyHeader['encoding'] {
  word(scan, 'the format');
  if (wordIs(scan, 'ascii')) return 'ascii';
  if (wordIs(scan, 'binary_little_endian')) return 'little';
  if (wordIs(scan, 'binary_big_endian')) return 'big';
  throw headerError(scan, `${quotedWord(scan)} is no format`);
}

function readElement(scan: TextScan): { name: string; count: number; properties: PlyProperty[] } {
  const name = word(scan, 'the name of the element');
  word(scan, 'the count of the element');
  const count = wordInteger(scan);
  if (!(count >= 0)) throw headerError(scan, `${quotedWord(scan)} is no count`);
  return { name, count, properties: [] };
}

function readProperty(scan: TextScan): PlyProperty {
  word(scan, 'the type of the property');
  const isList = wordIs(scan, 'list');
  let countType: PlyType | null = null;
  if (isList) {
    word(scan, 'the count type of the list');
    countType = typeOf(scan);
    word(scan, 'the item type of the list');
  }
  const type = typeOf(scan);
  return { name: word(scan, 'the name of the property'), type, countType };
}

function typeOf(scan: TextScan): PlyType {
  const text = wordText(scan);
  if (!Object.hasOwn(typeNames, text)) throw headerError(scan, `${quotedWord(scan)} is no type`);
  return typeNames[text as keyof typeof typeNames];
}

function word(scan: TextScan, what: string): string {
  if (!nextWordInLine(scan)) {
    scan.wordStart = scan.wordEnd = scan.at;
    throw headerError(scan, `${what} is missing`);
  }
  return wordText(scan);
}

function headerError(scan: TextScan, what: string): InputError {
  return scanError(scan, 'ply-header', `in the header ${what}`, 'Export the file again.');
}

/**
 * The byte behind the line end of `end_header`. A line feed after a carriage return belongs to the line end only
 * when the first line ends so as well: otherwise it is the first byte of the data.
 */
function endOfHeader(source: ByteSource, scan: TextScan): number {
  let offset = scan.offset + scan.wordEnd;
  const bytes = new Uint8Array(64);
  let end = source.read(offset, bytes);
  let at = 0;
  while (at < end && (bytes[at] === 0x20 || bytes[at] === 0x09)) at++;
  offset += at;
  if (at === end || bytes[at] !== 0x0d) return Math.min(offset + 1, source.size);
  end = source.read(0, bytes);
  const firstReturn = bytes.subarray(0, end).indexOf(0x0d);
  return Math.min(offset + (bytes[firstReturn + 1] === 0x0a ? 2 : 1), source.size);
}
