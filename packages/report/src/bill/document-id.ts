import { sha256Hex } from '@kinprint/manifest';

/**
 * A UUID of version 8 (RFC 9562, 5.8 and appendix B.2: the first 128 bits of a SHA-256) of a document's content: the same
 * content has the same id, wherever it is written.
 */
export async function contentUuid(content: object): Promise<string> {
  const hash = await sha256Hex(JSON.stringify(content));
  const variant = ((parseInt(hash[16], 16) & 0x3) | 0x8).toString(16);
  return [
    hash.slice(0, 8),
    hash.slice(8, 12),
    `8${hash.slice(13, 16)}`,
    `${variant}${hash.slice(17, 20)}`,
    hash.slice(20, 32),
  ].join('-');
}
