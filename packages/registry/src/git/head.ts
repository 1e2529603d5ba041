import { existsSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { registryFile } from '../state/registry-files.ts';
import { runOwnGit } from './own-program.ts';

/** The branch that is checked out, and where it stands. */
export interface Head {
  /** E.g. `refs/heads/main`. */
  readonly branch: string;
  /** null before the first commit. */
  readonly commit: string | null;
  /** The folder asked about, from the repository's root: empty, or ended by a slash. */
  readonly prefix: string;
  /** This working copy's own git folder. */
  readonly gitFolder: string;
  /** The git folder that all working copies share. */
  readonly commonFolder: string;
}

/** What stands in the git folder while something is only half done. */
const halfDone: readonly (readonly [string, string])[] = [
  ['MERGE_HEAD', 'merge'],
  ['CHERRY_PICK_HEAD', 'cherry-pick'],
  ['REVERT_HEAD', 'revert'],
  ['rebase-merge', 'rebase'],
  ['rebase-apply', 'rebase'],
];

/** Whether the repository around a registry ignores it, as build output and the like: its first file tells. */
export async function isIgnored(root: string): Promise<boolean> {
  const list = ['ls-files', '-z', '--others', '--ignored', '--exclude-standard', '--', registryFile];
  return (await runOwnGit(root, list)).out.length > 0;
}

/**
 * The branch that a commit made in `folder` would go to.
 *
 * @throws InputError `repository-not-found`, `registry-ignored`, `repository-bare`, `head-detached`, `head-damaged`, `repository-busy`,
 *   `git-missing`
 */
export async function readHead(folder: string): Promise<Head> {
  const where = await runOwnGit(folder, [
    'rev-parse',
    '--path-format=absolute',
    '--git-dir',
    '--git-common-dir',
    '--show-prefix',
  ]);
  const [gitFolder, commonFolder, prefix] = where.out.toString('utf8').split('\n');
  if (where.code !== 0 || gitFolder === undefined || commonFolder === undefined || prefix === undefined)
    throw new InputError(
      'repository-not-found',
      'The registry lies in no git repository, so there is no history to record to.',
      'Run git init there, or make the registry with kinprint start.',
      { file: folder },
    );
  if (await isIgnored(folder))
    throw new InputError(
      'registry-ignored',
      'The git repository around the registry ignores its folder: nothing of it belongs to that history.',
      'Run git init in the folder, so that the registry has a history of its own.',
      { file: folder },
    );
  for (const [name, what] of halfDone) {
    if (!existsSync(path.join(gitFolder, name))) continue;
    throw new InputError(
      'repository-busy',
      `A ${what} is under way in this repository.`,
      `Finish it or give it up (git ${what} --abort), then record.`,
      { file: folder },
    );
  }
  const symbolic = await runOwnGit(folder, ['symbolic-ref', '-q', 'HEAD']);
  if (symbolic.code !== 0)
    throw new InputError(
      'head-detached',
      'No branch is checked out, so a new revision would belong to none.',
      'Switch to a branch: git switch NAME.',
      { file: folder },
    );
  const branch = symbolic.out.toString('utf8').trim();
  const commit = await runOwnGit(folder, ['rev-parse', '-q', '--verify', `${branch}^{commit}`]);
  if (commit.code !== 0 && (await runOwnGit(folder, ['rev-parse', '-q', '--verify', branch])).code === 0)
    throw new InputError(
      'head-damaged',
      `The branch ${branch} names a commit that is not in this repository, or is damaged.`,
      'Fetch it, or set the branch to a commit that is there: git reset --soft COMMIT.',
      { file: folder },
    );
  return {
    branch,
    commit: commit.code === 0 ? commit.out.toString('latin1').trim() : null,
    prefix,
    gitFolder,
    commonFolder,
  };
}

/**
 * The head once more, for trying again: still of the branch that was meant.
 *
 * @param outcome what has not happened, as `Nothing was recorded.`
 * @param again what to do again, as `Record`
 * @throws InputError `branch-switched`, and as `readHead`
 */
export async function readHeadAgain(
  folder: string,
  first: Head,
  outcome: string,
  again: string,
): Promise<Head> {
  const head = await readHead(folder);
  if (head.branch === first.branch) return head;
  throw new InputError(
    'branch-switched',
    'Another branch was checked out meanwhile.',
    `${outcome} ${again} again on the branch that is meant.`,
  );
}
