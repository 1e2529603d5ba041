import type { ByteSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { Format } from '../types.ts';
import { facetBytes, headBytes, looksLikeFacets, sizeFitsCount, statedFacets } from './stl-binary-size.ts';
import { conflictMarker } from './text/scan-error.ts';
import { asciiText } from './text/decimal.ts';

/** Bytes looked at from the start of a file. */
const headLength = 1 << 16;

const objKeywords = new Set(
  'v vt vn vp f l p o g s usemtl mtllib cstype deg bmat step curv curv2 surf parm trim hole scrv sp end con mg'.split(
    ' ',
  ),
);

/** What a file is, before it is read. */
export type Kind = Exclude<Format, 'ply-ascii' | 'ply-binary'> | 'ply';

/**
 * Decides by content what kind of mesh file this is.
 *
 * Binary STL whose size is exactly what its count asks for comes first, whatever its header says; then what
 * announces itself (ZIP, `ply`), then text that begins with `solid` and goes on with `facet` or `endsolid`, then
 * text whose first statement is one of OBJ's, then binary STL whose count is wrong.
 *
 * @throws {InputError} `empty-file`, `lfs-pointer`, `conflict-marker`, `text-encoding`, or `unknown-kind` with
 * what speaks against each kind.
 */
export function kindOf(source: ByteSource): Kind {
  if (source.size === 0)
    throw new InputError('empty-file', 'the file is empty', 'Fetch or export the file again.');
  if (sizeFitsCount(source)) return 'stl-binary';
  const head = new Uint8Array(Math.min(headLength, source.size));
  const bytes = head.subarray(0, source.read(0, head));
  if (bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] <= 8 && bytes[3] === bytes[2] + 1) return '3mf';
  if (/^ply[ \t]*[\r\n]/.test(asciiText(bytes, 0, Math.min(bytes.length, 16)))) return 'ply';
  const text = textOf(bytes);
  const kind = text === null ? null : textKind(text);
  if (kind !== null) return kind;
  if (text === null && isStlWithWrongCount(source)) return 'stl-binary';
  throw unknown(source, bytes, text !== null);
}

/** The bytes as text without a byte-order mark, one character a byte; null when they are none. */
function textOf(bytes: Uint8Array): string | null {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    throw new InputError('text-encoding', 'the file is written in UTF-16', 'Save it as plain text (UTF-8).', {
      byte: 0,
    });
  }
  // Some programs fill up or end text with NUL or Ctrl-Z.
  let end = bytes.length;
  while (end > 0 && isFiller(bytes[end - 1])) end--;
  for (let at = 0; at < end; at++) if (bytes[at] < 0x20 && !isBlank(bytes[at])) return null;
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  return asciiText(bytes, start, end);
}

function isFiller(byte: number): boolean {
  return byte === 0 || byte === 0x1a;
}

/** Tab, line feed, vertical tab, form feed, carriage return. */
function isBlank(byte: number): boolean {
  return byte >= 0x09 && byte <= 0x0d;
}

function textKind(text: string): 'stl-ascii' | 'obj' | null {
  if (/^version https:\/\/git-lfs\.github\.com\/spec\//.test(text)) {
    const size = /^size (\d+)$/m.exec(text)?.[1];
    throw new InputError(
      'lfs-pointer',
      `this is only a pointer to the file, which is kept in large file storage${size ? ` (${size} bytes)` : ''}`,
      'Fetch the file itself (git lfs pull).',
      { line: 1 },
    );
  }
  if (/^\s*solid(\s|$)/i.test(text) && /\s(facet|endsolid)(\s|$)/i.test(text)) return 'stl-ascii';
  let line = 0;
  for (const match of text.matchAll(/[^\r\n]*(\r\n|\r|\n|$)/g)) {
    line++;
    if (/^(<{7}|={7}|>{7}|\|{7})( |\r|\n|$)/.test(match[0])) {
      throw conflictMarker(line, match[0].slice(0, 7));
    }
    const word = /^\s*([^\s#\\]+)/.exec(match[0])?.[1];
    if (word !== undefined) return objKeywords.has(word) ? 'obj' : null;
    if (match[0] === '') break;
  }
  // Comments throughout: OBJ is the only kind here that has such.
  return /^\s*#/.test(text) ? 'obj' : null;
}

/** True for bytes that can only be binary STL: 84 or more, and facets that look like ones where there are any. */
function isStlWithWrongCount(source: ByteSource): boolean {
  const stated = statedFacets(source);
  if (stated === null) return false;
  const whole = Math.floor((source.size - headBytes) / facetBytes);
  return whole === 0 ? stated > 0 : anyFacet(source, Math.min(whole, 16));
}

function anyFacet(source: ByteSource, count: number): boolean {
  for (let i = 0; i < count; i++) if (looksLikeFacets(source, i, 1)) return true;
  return false;
}

function unknown(source: ByteSource, bytes: Uint8Array, isText: boolean): InputError {
  if (!isText && replacements(bytes) >= 3) {
    return new InputError(
      'binary-as-text',
      'a program has treated this binary file as text and replaced what it did not understand (bytes EF BF BD)',
      'The file cannot be mended; fetch or export it again.',
      { byte: 0 },
    );
  }
  const stated = statedFacets(source);
  const stl =
    stated === null
      ? `a binary STL file has at least ${headBytes} bytes, this one ${source.size}`
      : `as binary STL it would need ${headBytes + facetBytes * stated} bytes and has ${source.size}`;
  const text = isText
    ? 'as text it is neither STL (no "solid" followed by "facet" or "endsolid") nor OBJ nor PLY'
    : 'it is neither a ZIP archive (3MF) nor text';
  return new InputError(
    'unknown-kind',
    `this is no mesh file: ${text}; ${stl}`,
    'Export it as STL, 3MF, OBJ or PLY.',
  );
}

/** How often U+FFFD, the sign for "not understood", stands in the bytes (in UTF-8). */
function replacements(bytes: Uint8Array): number {
  let count = 0;
  for (let i = 2; i < bytes.length; i++) {
    if (bytes[i] === 0xbd && bytes[i - 1] === 0xbf && bytes[i - 2] === 0xef) count++;
  }
  return count;
}
