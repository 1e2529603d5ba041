import { encode } from 'fast-png';
import { sheetPixels, type Picture } from './sheet-pixels.ts';
import type { Sheet } from './sheet.ts';

/** A sheet as a PNG file (ISO/IEC 15948): 8 bits of R, G, B each. */
export function sheetPng(sheet: Sheet): Uint8Array {
  const picture = sheetPixels(sheet);
  return png(picture, 3, { Title: latin(sheet.title), Description: latin(sheet.description) });
}

/** Compression is fixed, so that the same pixels are the same file. */
export function png(
  { width, height, data }: Omit<Picture, 'data'> & { readonly data: Uint8Array | Uint8ClampedArray },
  channels: 3 | 4,
  text?: Record<string, string>,
): Uint8Array {
  return encode(
    { width, height, data, channels, depth: 8, ...(text === undefined ? {} : { text }) },
    { zlib: { level: 6 } },
  );
}

/** Text chunks hold Latin-1 alone. */
function latin(text: string): string {
  return text
    .replace(/[−–]/g, '-')
    .replace(/→/g, 'to')
    .replace(/⌀/g, 'diameter ')
    .replace(/[^\x20-\xff]/g, '?');
}
