import type { Cache } from '../cache/cache.ts';
import { runGit } from '../git/program.ts';
import type { Repository } from '../git/repository.ts';
import type { Unread } from '../history/gaps.ts';
import type { Sweep } from '../history/manifest-versions.ts';
import { firstRecordings, type FirstRecording } from '../history/recordings.ts';
import { checkDefaults } from './defaults.ts';

/** A letter as some commit's manifest has it. */
export interface Recording extends FirstRecording {
  /**
   * Other digests of the letter that were recorded on another line of history: of the two commits neither comes from
   * the other, so that nobody changed what was recorded.
   */
  readonly parallel: readonly string[];
}

/** The letters of a repository's history, by the path of the manifest in the repository. */
export interface RecordedLetters {
  readonly byPath: ReadonlyMap<string, readonly Recording[]>;
  /** Versions of manifests that could not be read; what they recorded is not known. */
  readonly unread: readonly Unread[];
}

/**
 * Which letters any branch or tag ever recorded for which content, by the path of the manifest in the repository. A
 * renamed folder counts as another variant: whoever moves a folder moves its log along.
 *
 * @throws InputError `git-stalled`
 */
export async function recordedLetters(
  repository: Repository,
  { versions }: Sweep,
  cache: Cache,
): Promise<RecordedLetters> {
  const { byPath, unread } = await firstRecordings(repository, versions, cache);
  return { byPath: await withParallels(repository, byPath), unread };
}

async function withParallels(
  repository: Repository,
  recorded: ReadonlyMap<string, readonly FirstRecording[]>,
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
