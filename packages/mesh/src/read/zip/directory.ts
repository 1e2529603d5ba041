import type { ByteSource } from '../../bytes.ts';
import { InputError } from '../../error.ts';
import { utf8Text } from '../text/utf8.ts';
import { damaged } from './damaged.ts';
import { findDirectory } from './end-record.ts';

/** One file in an archive, as the central directory describes it. */
export interface ZipEntry {
  readonly name: string;
  /** 0 stored, 8 deflated. */
  readonly method: number;
  readonly crc: number;
  readonly compressedSize: number;
  readonly size: number;
  /** Where its local header begins. */
  readonly offset: number;
}

/** An archive: its entries by name in lower case, since part names are the same in any case
 * (Open Packaging Conventions, ECMA-376 part 2; from memory). */
export interface ZipArchive {
  readonly source: ByteSource;
  readonly entries: ReadonlyMap<string, ZipEntry>;
  /** Bytes that may still be unpacked from it, all entries together. */
  budget: number;
}

/** Common practice, no source: far above any package of parts, low enough to hold. */
export const zipLimits = {
  entries: 65_536,
  directoryBytes: 1 << 25,
  /** Unpacked bytes of all entries together. */
  unpackedBytes: 2 ** 31,
  /** Unpacked to packed size of one entry; text of numbers packs 4 to 20 times. */
  ratio: 100,
  /** The ratio is of no interest below this size. */
  freeBytes: 1 << 20,
};

/**
 * Reads the central directory of a ZIP archive, ZIP64 included.
 *
 * @throws {InputError} `zip-damaged`, `zip-name` for names that are absolute, climb out with `..` or occur twice,
 * `zip-encrypted`, `zip-limit`.
 *
 * Layout: APPNOTE.TXT, the ZIP file format specification 6.3 (from memory).
 */
export function openZip(source: ByteSource): ZipArchive {
  const directory = findDirectory(source);
  if (directory.count > zipLimits.entries || directory.size > zipLimits.directoryBytes) {
    throw new InputError('zip-limit', `the archive lists ${directory.count} files`, 'Pack the part again.');
  }
  const bytes = new Uint8Array(Math.min(directory.size, source.size));
  if (source.read(directory.offset, bytes) < directory.size) throw damaged('its directory is cut off');
  const view = new DataView(bytes.buffer);
  const entries = new Map<string, ZipEntry>();
  let at = 0;
  for (let i = 0; i < directory.count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50)
      throw damaged('its directory is cut off');
    const nameEnd = at + 46 + view.getUint16(at + 28, true);
    const extraEnd = nameEnd + view.getUint16(at + 30, true);
    const end = extraEnd + view.getUint16(at + 32, true);
    if (end > bytes.length) throw damaged('its directory is cut off');
    const entry = readEntry(view, at, bytes.subarray(at + 46, nameEnd), nameEnd, extraEnd);
    at = end;
    const key = entry.name.toLowerCase();
    if (entries.has(key)) throw badName(entry.name, 'occurs twice');
    entries.set(key, entry);
  }
  return { source, entries, budget: zipLimits.unpackedBytes };
}

function readEntry(
  view: DataView,
  at: number,
  nameBytes: Uint8Array,
  extraAt: number,
  extraEnd: number,
): ZipEntry {
  const name = utf8Text(nameBytes);
  checkName(name);
  if ((view.getUint16(at + 8, true) & 1) !== 0) {
    throw new InputError(
      'zip-encrypted',
      `"${name}" in the archive is encrypted`,
      'Export the part without a password.',
    );
  }
  const wide = wideFields(view, extraAt, extraEnd);
  // The 64-bit field holds, in this order, just those values that do not fit into 32 bits.
  const field = (place: number) => {
    const value = view.getUint32(at + place, true);
    if (value !== 0xffffffff) return value;
    const wider = wide.shift();
    if (wider === undefined) throw damaged(`the sizes of "${name}" are missing`);
    return wider;
  };
  const size = field(24);
  const compressedSize = field(20);
  const offset = field(42);
  return {
    name,
    method: view.getUint16(at + 10, true),
    crc: view.getUint32(at + 16, true),
    compressedSize,
    size,
    offset,
  };
}

/** The numbers of the ZIP64 extra field (id 1), empty when there is none. */
function wideFields(view: DataView, start: number, end: number): number[] {
  for (let at = start; at + 4 <= end;) {
    const length = view.getUint16(at + 2, true);
    if (at + 4 + length > end) break;
    if (view.getUint16(at, true) === 1) {
      const count = Math.min(length >> 3, 3);
      return Array.from({ length: count }, (_, i) => Number(view.getBigUint64(at + 4 + 8 * i, true)));
    }
    at += 4 + length;
  }
  return [];
}

function checkName(name: string): void {
  if (name === '' || name.includes('\0')) throw badName(name, 'is no name');
  if (/^[/\\]|^[a-z]:/i.test(name)) throw badName(name, 'is absolute');
  if (name.split(/[/\\]/).includes('..')) throw badName(name, 'climbs out of the archive');
}

function badName(name: string, why: string): InputError {
  const shown = JSON.stringify(name.slice(0, 80));
  return new InputError(
    'zip-name',
    `the name ${shown} in the archive ${why}`,
    'Do not trust this file; ask for another.',
  );
}
