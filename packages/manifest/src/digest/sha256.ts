/** SHA-256 (FIPS 180-4) of bytes, or of a text in UTF-8, as 64 lower-case hexadecimal digits. By the platform's WebCrypto. */
export async function sha256Hex(content: Uint8Array | string): Promise<string> {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  // WebCrypto refuses shared memory; such bytes are copied.
  const own =
    bytes.buffer instanceof ArrayBuffer ? (bytes as Uint8Array<ArrayBuffer>) : new Uint8Array(bytes);
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', own));
  let text = '';
  for (const byte of hash) text += byte.toString(16).padStart(2, '0');
  return text;
}
