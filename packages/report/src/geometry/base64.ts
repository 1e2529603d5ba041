/** Bytes as text of RFC 4648, section 4. */
export function toBase64(bytes: Uint8Array): string {
  // In pieces: a call takes only so many arguments, and pieces of whole triples join without padding.
  const piece = 3 * 8192;
  let text = '';
  for (let k = 0; k < bytes.length; k += piece)
    text += btoa(String.fromCharCode(...bytes.subarray(k, k + piece)));
  return text;
}

/** @throws Error for text that is no base64 */
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  const binary = atob(text);
  const bytes = new Uint8Array(binary.length);
  for (let k = 0; k < bytes.length; k++) bytes[k] = binary.charCodeAt(k);
  return bytes;
}
