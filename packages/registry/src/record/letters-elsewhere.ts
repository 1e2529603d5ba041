import type { RevisionEntry } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { Head } from '../git/head.ts';
import { runOwnGit } from '../git/own-program.ts';
import { openRepository } from '../git/repository.ts';
import { gapsOf } from '../history/gaps.ts';
import { firstRecordings, type FirstRecording } from '../history/recordings.ts';
import { sweepManifests } from '../history/sweep.ts';
import { variantFile } from '../state/registry-files.ts';
import type { RegistryState, VariantState } from '../state/types.ts';

/** Letters of a variant that some branch or tag has and its own log lacks. */
export interface LettersElsewhere {
  readonly recordings: readonly FirstRecording[];
  /** What could not be looked at, a sentence each. */
  readonly notes: readonly string[];
}

/**
 * Looks through everything that any branch, remote branch or tag reaches: under the manifest's path, and under paths
 * that no variant has here and whose log has an entry in common with this one, as when a folder was renamed.
 *
 * @param own the variant's log, with what the branch has of it
 */
export async function lettersElsewhere(
  state: RegistryState,
  head: Head,
  variant: VariantState,
  own: readonly RevisionEntry[],
  cache: Cache,
): Promise<LettersElsewhere> {
  const root = state.files.root ?? '';
  const isOwn = (one: FirstRecording): boolean =>
    own.some(entry => entry.letter === one.letter && entry.digest === one.digest);
  const present = new Set(
    [...state.variants.values()].map(({ folder }) => `${head.prefix}${folder}/${variantFile}`),
  );
  const here = `${head.prefix}${variant.folder}/${variantFile}`;
  const repository = await openRepository(root);
  try {
    const { versions, unread } = await sweepManifests(repository);
    const meant = versions.filter(({ path }) => path === here || !present.has(path));
    const recorded = await firstRecordings(repository, meant, cache);
    const recordings = [...recorded.byPath].flatMap(([path, list]) =>
      path === here || list.some(isOwn) ? list.filter(one => !isOwn(one)) : [],
    );
    const gaps = gapsOf([...unread, ...recorded.unread], repository.partial);
    return { recordings, notes: gaps.map(({ text, remedy }) => `${text} ${remedy}`) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return {
      recordings: [],
      notes: [`Letters of other branches could not be looked at: ${error.message} ${error.remedy}`],
    };
  } finally {
    await repository.close();
  }
}

/** Most branches that are named. */
const named = 3;

/** `on side and origin/main`, of the branches that a commit is on; `in commit 1234…` where git names none. */
export async function branchesOf(root: string, commit: string): Promise<string> {
  const answer = await runOwnGit(root, [
    'for-each-ref',
    `--contains=${commit}`,
    '--format=%(refname)',
    `--count=${named}`,
    'refs/heads',
    'refs/remotes',
  ]);
  const names = answer.out.toString('utf8').split('\n').filter(Boolean);
  const short = names.map(name => name.replace(/^refs\/(heads|remotes)\//, ''));
  const at = `in commit ${commit.slice(0, 12)}`;
  return answer.code !== 0 || short.length === 0 ? at : `${at}, on ${short.join(', ')}`;
}
