import { crc32 } from 'node:zlib';

/**
 * A segment is a text of lines, one entry each: `<key> <CRC-32 in hex of what follows> <JSON>`. JSON has no line ends
 * of its own, so a damaged line harms no other, and files can be joined end to end.
 */
export function entryLine(key: string, json: string): string {
  return `${key} ${checksum(json)} ${json}\n`;
}

/** Where the entries of a segment lie in its bytes, by key; of several with one key the last. */
export function indexSegment(bytes: Buffer, index: (key: string, start: number, end: number) => void): void {
  for (let start = 0; start < bytes.length;) {
    const found = bytes.indexOf(lineEnd, start);
    if (found === -1) return; // cut off
    const blank = bytes.indexOf(space, start);
    if (blank > start && blank < found) index(bytes.toString('latin1', start, blank), start, found);
    start = found + 1;
  }
}

/** The value of a line; undefined when it is damaged. */
export function entryValue(line: Buffer): { readonly value: unknown } | undefined {
  const sum = line.indexOf(space) + 1;
  const json = line.subarray(sum + checksumLength + 1);
  if (line.toString('latin1', sum, sum + checksumLength) !== checksum(json)) return undefined;
  try {
    return { value: JSON.parse(json.toString('utf8')) as unknown };
  } catch {
    return undefined;
  }
}

const lineEnd = 0x0a;
const space = 0x20;
const checksumLength = 8;

/** CRC-32 of ISO 3309, as in gzip (RFC 1952). */
function checksum(json: string | Buffer): string {
  return crc32(json).toString(16).padStart(checksumLength, '0');
}
