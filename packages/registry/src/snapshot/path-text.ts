/**
 * Paths are bytes, to git and to most file systems; texts are not. A path that is valid UTF-8 becomes that text;
 * a byte that is not becomes the lone surrogate U+DC00 + byte, so that every path has exactly one text and comes
 * back unchanged. Source: Python Enhancement Proposal 383 ("Non-decodable Bytes in System Character Interfaces").
 */
export function pathText(bytes: Uint8Array): string {
  const whole = strictly(bytes);
  if (whole !== null) return whole;
  let text = '';
  for (let i = 0; i < bytes.length;) {
    const length = sequenceLength(bytes[i]);
    const piece = i + length <= bytes.length ? strictly(bytes.subarray(i, i + length)) : null;
    text += piece ?? String.fromCharCode(0xdc00 + bytes[i]);
    i += piece === null ? 1 : length;
  }
  return text;
}

/** The bytes of a path that `pathText` made, or that a user typed. */
export function pathBytes(text: string): Uint8Array {
  // Nearly every path, and many times faster.
  if (text.isWellFormed()) return encoder.encode(text);
  const pieces: Uint8Array[] = [];
  for (const character of text) {
    const code = character.codePointAt(0)!;
    pieces.push(code >= 0xdc80 && code <= 0xdcff ? Uint8Array.of(code - 0xdc00) : encoder.encode(character));
  }
  return Buffer.concat(pieces);
}

const encoder = new TextEncoder();
const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function strictly(bytes: Uint8Array): string | null {
  try {
    return decoder.decode(bytes);
  } catch {
    return null;
  }
}

/** Bytes of the UTF-8 sequence that `first` begins; 1 when it begins none. */
function sequenceLength(first: number): number {
  if (first >= 0xc2 && first < 0xe0) return 2;
  if (first >= 0xe0 && first < 0xf0) return 3;
  return first >= 0xf0 && first < 0xf5 ? 4 : 1;
}
