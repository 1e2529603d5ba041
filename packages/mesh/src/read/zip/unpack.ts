import { Inflate } from 'fflate';
import { InputError } from '../../error.ts';
import { crc32 } from './crc32.ts';
import { damaged } from './damaged.ts';
import { zipLimits, type ZipArchive, type ZipEntry } from './directory.ts';

/** Packed bytes to one step. Deflate unpacks them to at most 1032 times as many. */
const stepBytes = 1 << 12;
/** Most unpacked bytes handed on at once. */
const pieceBytes = 1 << 16;

/**
 * Unpacks one entry of an archive, handing on the bytes piece by piece.
 *
 * @throws {InputError} `zip-damaged` when size or checksum are not those stated, `zip-method` for a method other
 * than stored and deflated, `zip-bomb` when the entry swells beyond all reason or the archive's budget is spent.
 */
export function unpack(archive: ZipArchive, entry: ZipEntry, sink: (piece: Uint8Array) => void): void {
  const start = dataStart(archive, entry);
  if (start + entry.compressedSize > archive.source.size) throw damaged(`"${entry.name}" is cut off`);
  let size = 0;
  let crc = 0;
  const take = (piece: Uint8Array) => {
    if (piece.length === 0) return;
    size += piece.length;
    archive.budget -= piece.length;
    const swollen = size > zipLimits.freeBytes && size > zipLimits.ratio * entry.compressedSize;
    if (swollen || archive.budget < 0) {
      throw new InputError(
        'zip-bomb',
        `"${entry.name}" unpacks to far more than a part needs (over ${size} bytes from ${entry.compressedSize})`,
        'Do not trust this file; ask for another.',
      );
    }
    if (size > entry.size) throw damaged(`"${entry.name}" is longer than stated`);
    crc = crc32(piece, crc);
    for (let at = 0; at < piece.length; at += pieceBytes) sink(piece.subarray(at, at + pieceBytes));
  };
  if (entry.method === 8) inflate(archive, entry, start, take);
  else if (entry.method === 0) copy(archive, entry, start, take);
  else {
    throw new InputError(
      'zip-method',
      `"${entry.name}" is packed by method ${entry.method}; only 0 (stored) and 8 (deflated) are allowed`,
      'Export the file again.',
    );
  }
  if (size !== entry.size) throw damaged(`"${entry.name}" is shorter than stated`);
  if (crc !== entry.crc) throw damaged(`the checksum of "${entry.name}" does not match`);
}

/** Where the packed bytes begin: behind the local header, whose name and extra field have lengths of their own. */
function dataStart(archive: ZipArchive, entry: ZipEntry): number {
  const header = new DataView(new ArrayBuffer(30));
  const got = archive.source.read(entry.offset, new Uint8Array(header.buffer));
  if (got < 30 || header.getUint32(0, true) !== 0x04034b50)
    throw damaged(`"${entry.name}" is not where it should be`);
  return entry.offset + 30 + header.getUint16(26, true) + header.getUint16(28, true);
}

function copy(archive: ZipArchive, entry: ZipEntry, start: number, take: (piece: Uint8Array) => void): void {
  if (entry.compressedSize !== entry.size) throw damaged(`"${entry.name}" has two sizes though it is stored`);
  pieces(archive, entry, start, take);
}

function inflate(
  archive: ZipArchive,
  entry: ZipEntry,
  start: number,
  take: (piece: Uint8Array) => void,
): void {
  const stream = new Inflate(take);
  try {
    pieces(archive, entry, start, (piece, last) => stream.push(piece, last));
    if (entry.compressedSize === 0) stream.push(new Uint8Array(0), true);
  } catch (error) {
    // The library's own errors carry a number; ours and real faults pass through.
    if (error instanceof Error && typeof (error as { code?: unknown }).code === 'number') {
      throw damaged(`"${entry.name}" cannot be unpacked (${error.message})`);
    }
    throw error;
  }
}

function pieces(
  archive: ZipArchive,
  entry: ZipEntry,
  start: number,
  take: (piece: Uint8Array, last: boolean) => void,
): void {
  const buffer = new Uint8Array(stepBytes);
  for (let done = 0; done < entry.compressedSize;) {
    const piece = buffer.subarray(0, Math.min(stepBytes, entry.compressedSize - done));
    if (archive.source.read(start + done, piece) < piece.length) throw damaged(`"${entry.name}" is cut off`);
    done += piece.length;
    take(piece, done === entry.compressedSize);
  }
}
