import type { ByteSource } from '../../bytes.ts';
import { damaged } from './damaged.ts';

/** Where the central directory of an archive is. */
export interface DirectoryPlace {
  readonly offset: number;
  readonly size: number;
  readonly count: number;
}

/**
 * Finds the central directory by the record at the end of the archive, behind which only a comment may stand.
 *
 * @throws {InputError} `zip-damaged`.
 */
export function findDirectory(source: ByteSource): DirectoryPlace {
  // 22 bytes and a comment of at most 65535.
  const tail = new Uint8Array(Math.min(source.size, 22 + 0xffff));
  const start = source.size - tail.length;
  if (source.read(start, tail) < tail.length) throw damaged('its end is missing');
  const view = new DataView(tail.buffer);
  for (let at = tail.length - 22; at >= 0; at--) {
    if (view.getUint32(at, true) !== 0x06054b50) continue;
    if (at + 22 + view.getUint16(at + 20, true) !== tail.length) continue;
    return checked(source, fromRecord(source, view, at, start));
  }
  throw damaged('its end is missing');
}

function fromRecord(source: ByteSource, view: DataView, at: number, start: number): DirectoryPlace {
  const count = view.getUint16(at + 10, true);
  const size = view.getUint32(at + 12, true);
  const offset = view.getUint32(at + 16, true);
  const wide = count === 0xffff || size === 0xffffffff || offset === 0xffffffff;
  const place = wide ? fromWideRecord(source, start + at - 20) : null;
  if (place !== null) return place;
  if (view.getUint16(at + 4, true) !== 0 || view.getUint16(at + 8, true) !== count) {
    throw damaged('it is one of several volumes');
  }
  return { offset, size, count };
}

/** The ZIP64 record that the locator at `at` points to; null when there is no locator. */
function fromWideRecord(source: ByteSource, at: number): DirectoryPlace | null {
  const locator = new DataView(new ArrayBuffer(20));
  if (at < 0 || source.read(at, new Uint8Array(locator.buffer)) < 20) return null;
  if (locator.getUint32(0, true) !== 0x07064b50) return null;
  const record = new DataView(new ArrayBuffer(56));
  const offset = Number(locator.getBigUint64(8, true));
  if (offset + 56 > source.size || source.read(offset, new Uint8Array(record.buffer)) < 56) {
    throw damaged('its ZIP64 record is missing');
  }
  if (record.getUint32(0, true) !== 0x06064b50) throw damaged('its ZIP64 record is missing');
  return {
    offset: Number(record.getBigUint64(48, true)),
    size: Number(record.getBigUint64(40, true)),
    count: Number(record.getBigUint64(32, true)),
  };
}

function checked(source: ByteSource, place: DirectoryPlace): DirectoryPlace {
  if (place.offset + place.size > source.size || place.count * 46 > place.size)
    throw damaged('its directory is cut off');
  return place;
}
