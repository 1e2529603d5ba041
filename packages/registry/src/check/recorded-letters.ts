import type { Cache } from '../cache/cache.ts';
import { cachedReader } from '../cache/read-document-cached.ts';
import { registryDefaults } from '../defaults.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import { runGit } from '../git/program.ts';
import type { Repository } from '../git/repository.ts';
import { sweepManifests } from '../history/sweep.ts';
import { checkDefaults } from './defaults.ts';

/** A letter as some commit's manifest has it. */
export interface Recording {
  readonly letter: string;
  readonly digest: string;
  /** The first commit that has it so. */
  readonly commit: string;
  /**
   * Other digests of the letter that were recorded on another line of history: of the two commits neither comes from
   * the other, so that nobody changed what was recorded.
   */
  readonly parallel: readonly string[];
}

const kind = 'recorded-letters';
const version = 1;

/**
 * Which letters any branch or tag ever recorded for which content, by the path of the manifest in the repository. A
 * renamed folder counts as another variant: whoever moves a folder moves its log along.
 *
 * @throws InputError `repository-unreadable`, `git-stalled`
 */
export async function recordedLetters(
  repository: Repository,
  cache: Cache,
): Promise<ReadonlyMap<string, readonly Recording[]>> {
  const versions = await sweepManifests(repository);
  const letters = new Map<string, readonly (readonly [string, string])[]>();
  for (const blob of new Set(versions.map(v => v.blob)))
    letters.set(blob, await lettersOf(repository, blob, cache));
  const recorded = new Map<string, First[]>();
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
  return withParallels(repository, recorded);
}

type First = Omit<Recording, 'parallel'>;

async function withParallels(
  repository: Repository,
  recorded: ReadonlyMap<string, readonly First[]>,
): Promise<Map<string, Recording[]>> {
  let left: number = checkDefaults.maxParallels;
  const result = new Map<string, Recording[]>();
  for (const [path, list] of recorded) {
    const recordings = list.map(one => ({ ...one, parallel: [] as string[] }));
    for (const [k, one] of recordings.entries())
      for (const other of recordings.slice(k + 1)) {
        if (one.letter !== other.letter || left === 0) continue;
        left--;
        // The sweep gives parents before children.
        if (one.commit === other.commit || (await comesFrom(repository, other.commit, one.commit))) continue;
        one.parallel.push(other.digest);
        other.parallel.push(one.digest);
      }
    result.set(path, recordings);
  }
  return result;
}

/** Whether a commit is among those that another came from; also where git cannot tell. */
async function comesFrom(repository: Repository, newer: string, older: string): Promise<boolean> {
  const answer = await runGit(repository.name, ['merge-base', '--is-ancestor', older, newer]);
  return answer.code !== 1;
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
  // Parsing is slow. Most versions were read before as the present one, and most manifests that were never recorded say so by having no digest in them.
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
