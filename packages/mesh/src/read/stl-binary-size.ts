import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { Note } from '../types.ts';

/** Bytes before the first facet: 80 of header, 4 of count. */
export const headBytes = 84;
/** Bytes of one facet. */
export const facetBytes = 50;

/** The facet count that a binary STL file states at byte 80; null when the source is shorter than 84 bytes. */
export function statedFacets(source: ByteSource): number | null {
  const bytes = new Uint8Array(4);
  if (source.size < headBytes || source.read(headBytes - 4, bytes) < 4) return null;
  return new DataView(bytes.buffer).getUint32(0, true);
}

/** True when the size of the source is exactly what its facet count asks for. */
export function sizeFitsCount(source: ByteSource): boolean {
  const stated = statedFacets(source);
  return stated !== null && source.size === headBytes + facetBytes * stated;
}

/**
 * How many facets of a binary STL file to read: the count is believed only as far as the size bears it out.
 *
 * Bytes beyond the stated count are taken as facets when they fill whole records that look like facets (the
 * count is then wrong, 0 most often), and as a trailer to ignore otherwise.
 *
 * @throws {InputError} `stl-truncated` when the source is too short for the count.
 */
export function facetsToRead(source: ByteSource): { facets: number; notes: Note[] } {
  const stated = statedFacets(source);
  if (stated === null) {
    throw new InputError(
      'stl-truncated',
      `the file ends within its head: ${source.size} bytes where a binary STL file has at least ${headBytes}`,
      'Fetch or export the file again.',
      { byte: source.size },
    );
  }
  const needed = headBytes + facetBytes * stated;
  const whole = Math.floor((source.size - headBytes) / facetBytes);
  if (source.size < needed) {
    throw new InputError(
      'stl-truncated',
      `the file states ${stated} facets and would need ${needed} bytes, but it has ${source.size}: ` +
        `${stated - whole} facets are missing`,
      'Fetch or export the file again.',
      { facet: whole + 1, byte: headBytes + facetBytes * whole },
    );
  }
  const extra = source.size - needed;
  if (extra === 0) return { facets: stated, notes: [] };
  if (extra % facetBytes === 0 && looksLikeFacets(source, stated, Math.min(whole - stated, 64))) {
    const text = `The file states ${stated} facets but holds ${whole}; all ${whole} were read.`;
    return { facets: whole, notes: [{ code: 'stl-count-wrong', text, about: 'triangles' }] };
  }
  const text = `${extra} bytes after the last stated facet were ignored.`;
  return { facets: stated, notes: [{ code: 'stl-trailing-bytes', text }] };
}

/**
 * True when the records have corners that can be coordinates: finite, of believable size, and not all the same.
 * Text, padding and random bytes fail.
 */
export function looksLikeFacets(source: ByteSource, first: number, count: number): boolean {
  const bytes = new Uint8Array(facetBytes * count);
  if (source.read(headBytes + facetBytes * first, bytes) < bytes.length) return false;
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < count; i++) {
    let varied = false;
    for (let k = 0; k < 9; k++) {
      const value = view.getFloat32(facetBytes * i + 12 + 4 * k, true);
      const size = Math.abs(value);
      // Common practice, no source: no drawing spans more than these 21 powers of ten.
      if (!(value === 0 || (size > 1e-12 && size < 1e9))) return false;
      if (k >= 3 && value !== view.getFloat32(facetBytes * i + 12 + 4 * (k % 3), true)) varied = true;
    }
    if (!varied) return false;
  }
  return count > 0;
}
