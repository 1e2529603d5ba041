import { createHash } from 'node:crypto';
import type { Digest } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { standing, type Standing } from '../state/digest.ts';
import type { RegistryState, VariantState } from '../state/types.ts';

const kind = 'content-digest';
/** Rises with any change of how digests are computed; docs/digest.md says when that may be. */
const version = 1;

/** `standing`, with the digest taken from the cache where the same manifest and files had it before. */
export async function cachedStanding(state: RegistryState, address: string, cache: Cache): Promise<Standing> {
  const variant = state.variants.get(address);
  const files = variant === undefined ? null : await filesText(state, variant);
  if (variant === undefined || files === null) return standing(state, address);
  const key = createHash('sha256').update(`${files}\n\n${variant.document.text}`).digest('hex');
  const digest = cache.get(kind, version, key);
  if (!isDigest(digest)) {
    const found = await standing(state, address);
    if (found.digest !== null) cache.put(kind, version, key, found.digest);
    return found;
  }
  const last = variant.document.value?.revisions?.at(-1) ?? null;
  const status = last === null ? 'unrecorded' : last.digest === digest ? 'recorded' : 'changed';
  return { status, last, digest, reason: null };
}

/** Hashes and names of all files of a variant, a line each; null when one cannot be read. */
export async function filesText(
  state: RegistryState,
  { folder, files }: VariantState,
): Promise<string | null> {
  try {
    const lines: string[] = [];
    for (const ref of files) {
      if (ref.problem?.code === 'not-regular') continue;
      lines.push(`${await state.files.sha256(ref)}  ${ref.path.slice(folder.length + 1)}`);
    }
    return lines.join('\n');
  } catch (error) {
    if (error instanceof InputError) return null; // told with the files
    throw error;
  }
}

function isDigest(value: unknown): value is Digest {
  return typeof value === 'string' && /^sha256:[0-9a-f]{64}$/.test(value);
}
