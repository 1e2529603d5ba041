import { createHash } from 'node:crypto';
import type { ByteSource } from '@kinprint/mesh';

/**
 * How content is digested: SHA-256 of the bytes (or SHA-1, only for documents whose standard asks for it), or the id
 * git gives a file of these bytes (SHA-1 or SHA-256 over a header and the bytes), which makes a folder comparable with
 * a commit.
 */
export type DigestKind = 'sha256' | 'sha1' | 'git-sha1' | 'git-sha256';

/**
 * The digest of a source's content as `kind:hex`. Read in pieces, so that a large file is never in memory whole.
 *
 * @remarks A git id hashes `blob <size>\0` and then the content ("Git Objects", the git book, chapter 10.2).
 */
export function contentDigest(source: ByteSource, kind: DigestKind): string {
  const hash = createHash(kind.endsWith('sha1') ? 'sha1' : 'sha256');
  if (kind.startsWith('git-')) hash.update(`blob ${source.size}\0`);
  const piece = new Uint8Array(Math.min(source.size, 1 << 20));
  for (let offset = 0; offset < source.size;) {
    const count = source.read(offset, piece);
    if (count === 0) break;
    hash.update(piece.subarray(0, count));
    offset += count;
  }
  return `${kind}:${hash.digest('hex')}`;
}
