import type { Cache } from '../cache/cache.ts';
import { cachedReader } from '../cache/read-document-cached.ts';
import { registryDefaults } from '../defaults.ts';
import type { Repository } from '../git/repository.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { ManifestVersion } from './sweep.ts';

/** A letter with the content it was given to, as some commit's manifest has it. */
export interface FirstRecording {
  readonly letter: string;
  readonly digest: string;
  /** The first commit that has it so. */
  readonly commit: string;
}

const kind = 'recorded-letters';
const version = 1;

/** Which letters were recorded for which content, by the path of the manifest in the repository. */
export async function firstRecordings(
  repository: Repository,
  versions: readonly ManifestVersion[],
  cache: Cache,
): Promise<Map<string, FirstRecording[]>> {
  const letters = new Map<string, readonly (readonly [string, string])[]>();
  for (const blob of new Set(versions.map(v => v.blob)))
    letters.set(blob, await lettersOf(repository, blob, cache));
  const recorded = new Map<string, FirstRecording[]>();
  const seen = new Set<string>();
  for (const { path, blob, commit } of versions) {
    for (const [letter, digest] of letters.get(blob) ?? []) {
      const key = `${path} ${letter} ${digest}`;
      if (seen.has(key)) continue;
      seen.add(key);
      const list = recorded.get(path);
      if (list === undefined) recorded.set(path, [{ letter, digest, commit }]);
      else list.push({ letter, digest, commit });
    }
  }
  return recorded;
}

/** The [letter, digest] pairs of a manifest; none where it cannot be read. */
async function lettersOf(
  repository: Repository,
  blob: string,
  cache: Cache,
): Promise<readonly (readonly [string, string])[]> {
  const known = cache.get(kind, version, blob);
  if (isPairs(known)) return known;
  const object = await repository.objects.read(blob);
  if (object.state !== 'found') return [];
  if (object.content.size > registryDefaults.maxDocumentBytes) {
    object.content.close();
    return [];
  }
  const text = Buffer.from(readAndClose(object.content)).toString('utf8');
  // Parsing is slow. Most versions were read before as the present one, and most manifests that were never recorded
  // say so by having no digest in them.
  const revisions = /sha256:[0-9a-f]{64}/.test(text)
    ? (cachedReader(cache)('variant', text, 'variant.yaml').value?.revisions ?? [])
    : [];
  const pairs = revisions.map(({ letter, digest }) => [letter, digest] as const);
  cache.put(kind, version, blob, pairs);
  return pairs;
}

function isPairs(value: unknown): value is (readonly [string, string])[] {
  const isPair = (pair: unknown): boolean =>
    Array.isArray(pair) && pair.length === 2 && pair.every(text => typeof text === 'string');
  return Array.isArray(value) && value.every(isPair);
}
