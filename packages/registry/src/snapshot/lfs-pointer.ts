import { registryDefaults } from '../defaults.ts';

/** What a large-file pointer names: the SHA-256 (hex) and the size of the real content. */
export interface LfsPointer {
  readonly oid: string;
  readonly size: number;
}

const first = /^version https:\/\/git-lfs\.github\.com\/spec\/v1\r?\n/;

/**
 * Reads a large-file pointer: a few `key value` lines that git stores in place of the content.
 *
 * @returns null when the bytes are anything else
 * @remarks Source: the pointer-file section of the specification, version 1, that the first line names.
 */
export function parseLfsPointer(bytes: Uint8Array): LfsPointer | null {
  if (bytes.length >= registryDefaults.lfsPointerBytes) return null;
  const text = Buffer.from(bytes).toString('latin1');
  if (!first.test(text)) return null;
  const oid = /^oid sha256:([0-9a-f]{64})\r?$/m.exec(text)?.[1];
  const size = /^size ([0-9]{1,15})\r?$/m.exec(text)?.[1];
  return oid === undefined || size === undefined ? null : { oid, size: Number(size) };
}
