import { ManifestError } from '../fault.ts';
import type { Digest, VariantDocument } from '../generated/types.ts';
import { canonicalJson } from './canonical-json.ts';
import { sha256Hex } from './sha256.ts';

/** One file of a variant's folder. */
export interface ListedFile {
  /** From the variant's folder, with forward slashes. */
  readonly path: string;
  /** SHA-256 of its bytes as git stores them; of a large-file pointer the one that it names. */
  readonly sha256: string;
}

/** The manifest's own name in the listing. */
const manifestName = 'variant.yaml';

/**
 * What the digest of a variant's content is taken of: a line `<64 hexadecimal digits>  <path>` for each file, as
 * `sha256sum` prints it, and one for variant.yaml, whose hash is that of the canonical JSON (RFC 8785) of the manifest
 * without its `revisions`. Sorted by the bytes of the path. docs/digest.md shows how to make it by hand.
 *
 * Hidden files (a step that begins with a dot) and a variant.yaml among the files are left out.
 *
 * @throws ManifestError for a path that such a line cannot name (line breaks, backslashes), one given twice, a
 *   malformed hash, or a manifest that has no canonical form
 */
export async function contentListing(
  manifest: VariantDocument,
  files: readonly ListedFile[],
): Promise<string> {
  const { revisions: _, ...content } = manifest;
  const entries = files.filter(file => file.path !== manifestName && !isHidden(file.path)).map(checked);
  entries.push({ path: manifestName, sha256: await sha256Hex(canonicalJson(content)) });
  const encoder = new TextEncoder();
  const keyed = entries.map(entry => ({ ...entry, key: encoder.encode(entry.path) }));
  keyed.sort((a, b) => compareBytes(a.key, b.key));
  for (let i = 1; i < keyed.length; i++) {
    const path = keyed[i]?.path;
    if (path === keyed[i - 1]?.path)
      throw new ManifestError('path-twice', `'${path}' is listed twice.`, 'Give each file once.');
  }
  return keyed.map(entry => `${entry.sha256}  ${entry.path}\n`).join('');
}

/** `sha256:` and the SHA-256 of the listing: the same for the same content, whoever computes it wherever. */
export async function contentDigest(
  manifest: VariantDocument,
  files: readonly ListedFile[],
): Promise<Digest> {
  return `sha256:${await sha256Hex(await contentListing(manifest, files))}`;
}

function isHidden(path: string): boolean {
  return path.split('/').some(step => step.startsWith('.'));
}

function checked(file: ListedFile): ListedFile {
  // sha256sum marks such names with a backslash of its own; no variant needs them.
  if (file.path === '' || /[\\\u0000-\u001f]/.test(file.path) || /\p{Surrogate}/u.test(file.path))
    throw new ManifestError(
      'path-not-listable',
      `The file name ${JSON.stringify(file.path)} cannot be listed.`,
      'Rename the file.',
    );
  if (!/^[0-9a-f]{64}$/.test(file.sha256))
    throw new ManifestError(
      'hash-malformed',
      `'${file.sha256}' is no SHA-256 hash.`,
      'Give 64 lower-case hexadecimal digits.',
    );
  return file;
}

function compareBytes(a: Uint8Array, b: Uint8Array): number {
  const shared = Math.min(a.length, b.length);
  for (let i = 0; i < shared; i++) {
    const difference = a[i] - b[i];
    if (difference !== 0) return difference;
  }
  return a.length - b.length;
}
