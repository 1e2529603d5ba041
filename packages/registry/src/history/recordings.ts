import type { Cache } from '../cache/cache.ts';
import { cachedReader } from '../cache/read-document-cached.ts';
import { registryDefaults } from '../defaults.ts';
import type { Repository } from '../git/repository.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { Unread } from './gaps.ts';
import type { ManifestVersion } from './manifest-versions.ts';

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
export interface FirstRecordings {
  readonly byPath: ReadonlyMap<string, readonly FirstRecording[]>;
  /** Versions of manifests that could not be read; what they recorded is not known. */
  readonly unread: readonly Unread[];
}

/** @param versions in the order of the history: of a letter and its content the first counts */
export async function firstRecordings(
  repository: Repository,
  versions: readonly ManifestVersion[],
  cache: Cache,
): Promise<FirstRecordings> {
  const letters = new Map<string, readonly (readonly [string, string])[]>();
  const unread: Unread[] = [];
  for (const blob of new Set(versions.map(v => v.blob))) {
    const found = await lettersOf(repository, blob, cache);
    if (typeof found !== 'string') letters.set(blob, found);
    else unread.push({ what: 'manifest', state: found, reference: null, id: blob });
  }
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
  return { byPath: recorded, unread };
}

/** The [letter, digest] pairs of a manifest; none where its text is no manifest. */
async function lettersOf(
  repository: Repository,
  blob: string,
  cache: Cache,
): Promise<readonly (readonly [string, string])[] | 'missing' | 'damaged'> {
  const known = cache.get(kind, version, blob);
  if (isPairs(known)) return known;
  const object = await repository.objects.read(blob);
  if (object.state !== 'found') return object.state;
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
