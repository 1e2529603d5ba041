import { zipSync } from 'fflate';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesSource } from '../../bytes.ts';
import { InputError } from '../../error.ts';
import { crc32 } from './crc32.ts';
import { openZip } from './directory.ts';
import { unpack } from './unpack.ts';

const text = new TextEncoder().encode('one facet, and another facet, and another');

/** All entries of an archive, unpacked. */
function contents(bytes: Uint8Array): Map<string, Uint8Array> {
  const archive = openZip(bytesSource(bytes));
  const files = new Map<string, Uint8Array>();
  for (const entry of archive.entries.values()) {
    const pieces: number[] = [];
    unpack(archive, entry, piece => pieces.push(...piece));
    files.set(entry.name, Uint8Array.from(pieces));
  }
  return files;
}

function codeOf(bytes: Uint8Array): string {
  try {
    contents(bytes);
  } catch (error) {
    if (error instanceof InputError) return error.code;
    throw error;
  }
  return 'fine';
}

/** Where `signature` stands last. */
function lastOf(bytes: Uint8Array<ArrayBuffer>, signature: number): number {
  const view = new DataView(bytes.buffer);
  for (let at = bytes.length - 4; at >= 0; at--) if (view.getUint32(at, true) === signature) return at;
  throw new Error('no such record');
}

const directoryOf = (bytes: Uint8Array<ArrayBuffer>) => lastOf(bytes, 0x02014b50);
const zip = (files: Record<string, Uint8Array>, level: 0 | 6 = 6) =>
  new Uint8Array(zipSync(files, { level }));

function patched(
  bytes: Uint8Array<ArrayBuffer>,
  at: number,
  value: number,
  size: 2 | 4,
): Uint8Array<ArrayBuffer> {
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  if (size === 2) view.setUint16(at, value, true);
  else view.setUint32(at, value, true);
  return copy;
}

describe('crc32', () => {
  it('gives the check value of its catalog entry for 123456789', () => {
    // CRC-32/ISO-HDLC: check value cbf43926 (from memory).
    expect(crc32(new TextEncoder().encode('123456789'))).toBe(0xcbf43926);
    expect(crc32(text.subarray(5), crc32(text.subarray(0, 5)))).toBe(crc32(text));
  });
});

describe('zip', () => {
  it('unpacks what was packed, stored or deflated (property)', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 3000 }),
        fc.constantFrom(0 as const, 6 as const),
        (data, level) => {
          expect(contents(zip({ 'a/b.txt': data, 'c.txt': text }, level))).toEqual(
            new Map([
              ['a/b.txt', Uint8Array.from(data)],
              ['c.txt', text],
            ]),
          );
        },
      ),
    );
  });

  it('finds the directory in front of a comment', () => {
    const bytes = zip({ a: text });
    const commented = new Uint8Array(bytes.length + 5);
    commented.set(bytes);
    expect(codeOf(patched(commented, bytes.length - 2, 5, 2))).toBe('fine');
    expect(codeOf(commented)).toBe('zip-damaged');
  });

  it.each(['/etc/x', '../x', 'a/../../x', 'a\\..\\x', 'C:x', '\\x'])('refuses the name %s', name => {
    expect(codeOf(zip({ [name]: text }))).toBe('zip-name');
  });

  it('refuses one name twice, in another case too', () => {
    expect(codeOf(zip({ 'a.txt': text, 'A.TXT': text }))).toBe('zip-name');
  });

  it('refuses encrypted entries and other methods', () => {
    const bytes = zip({ a: text });
    expect(codeOf(patched(bytes, directoryOf(bytes) + 8, 1, 2))).toBe('zip-encrypted');
    expect(codeOf(patched(bytes, directoryOf(bytes) + 10, 12, 2))).toBe('zip-method');
  });

  it('checks size and checksum', () => {
    for (const level of [0, 6] as const) {
      const bytes = zip({ a: text }, level);
      const at = directoryOf(bytes);
      expect(codeOf(patched(bytes, at + 16, 1234, 4))).toBe('zip-damaged');
      expect(codeOf(patched(bytes, at + 24, text.length - 1, 4))).toBe('zip-damaged');
      expect(codeOf(patched(bytes, at + 24, text.length + 1, 4))).toBe('zip-damaged');
      expect(codeOf(patched(bytes, at + 20, 3, 4))).toBe('zip-damaged');
      expect(codeOf(patched(bytes, at + 42, 7, 4))).toBe('zip-damaged');
    }
  });

  it('stops a bomb after a few steps, whatever sizes it states', () => {
    const bytes = new Uint8Array(zipSync({ bomb: new Uint8Array(20 << 20) }, { level: 1 }));
    const archive = openZip(bytesSource(bytes));
    let unpacked = 0;
    const entry = archive.entries.get('bomb');
    expect(entry).toBeDefined();
    expect(() => unpack(archive, entry!, piece => (unpacked += piece.length))).toThrow(/unpacks to far more/);
    expect(unpacked).toBeLessThan(18 << 20);
  });

  it('reads ZIP64 sizes and places', () => {
    const bytes = zip({ a: text });
    const at = directoryOf(bytes);
    const end = lastOf(bytes, 0x06054b50);
    const view = new DataView(bytes.buffer);
    const extra = new DataView(new ArrayBuffer(28));
    extra.setUint16(0, 1, true);
    extra.setUint16(2, 24, true);
    extra.setBigUint64(4, BigInt(view.getUint32(at + 24, true)), true);
    extra.setBigUint64(12, BigInt(view.getUint32(at + 20, true)), true);
    extra.setBigUint64(20, BigInt(view.getUint32(at + 42, true)), true);
    const directory = new Uint8Array(end - at + 28);
    directory.set(bytes.subarray(at, end));
    directory.set(new Uint8Array(extra.buffer), end - at);
    let head = patched(directory, 30, 28, 2);
    for (const place of [20, 24, 42]) head = patched(head, place, 0xffffffff, 4);
    const record = new DataView(new ArrayBuffer(56 + 20));
    record.setUint32(0, 0x06064b50, true);
    record.setBigUint64(24, 1n, true);
    record.setBigUint64(32, 1n, true);
    record.setBigUint64(40, BigInt(head.length), true);
    record.setBigUint64(48, BigInt(at), true);
    record.setUint32(56, 0x07064b50, true);
    record.setBigUint64(64, BigInt(at + head.length), true);
    const tail = patched(patched(bytes.slice(end), 10, 0xffff, 2), 16, 0xffffffff, 4);
    const whole = Uint8Array.of(...bytes.subarray(0, at), ...head, ...new Uint8Array(record.buffer), ...tail);
    expect(contents(whole)).toEqual(new Map([['a', text]]));
  });
});
