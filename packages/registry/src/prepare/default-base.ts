import { InputError } from '@kinprint/mesh';
import { runGit } from '../git/program.ts';
import { branchPoint } from '../review/branch-point.ts';
import type { PrepareBase } from './types.ts';

/** Where contributions usually go to; the first that is there. */
const usual = [
  'refs/remotes/origin/HEAD',
  'refs/remotes/origin/main',
  'refs/heads/main',
  'refs/heads/master',
];

/**
 * What a change is counted from: the revision named, or the default branch, at the commit where HEAD left it. Where there is
 * no such branch it is HEAD, so that what is not committed is looked at.
 *
 * @throws InputError `repository-not-found`, `nothing-committed`, `revision-unknown`, `git-missing`
 */
export async function prepareBase(root: string, named: string | null): Promise<PrepareBase> {
  if ((await runGit(root, ['rev-parse', '--git-dir'])).code !== 0)
    throw new InputError(
      'repository-not-found',
      'The registry is in no git repository, so there is nothing to compare it with.',
      'Run git init and commit what there was before the change; or see kinprint check.',
      { file: root },
    );
  if (!(await isCommit(root, 'HEAD')))
    throw new InputError(
      'nothing-committed',
      'Nothing is committed yet, so there is nothing to compare with.',
      'Commit what there was before the change; or see kinprint check.',
      { file: root },
    );
  const name = named ?? (await firstUsual(root)) ?? 'HEAD';
  const { commit, head, shared } = await branchPoint(root, name, 'HEAD');
  return { name, commit, given: named !== null, uncommitted: commit === head, shared };
}

async function firstUsual(root: string): Promise<string | null> {
  for (const ref of usual) {
    if (!(await isCommit(root, ref))) continue;
    const short = await runGit(root, ['rev-parse', '--abbrev-ref', ref]);
    const name = short.out.toString('utf8').trim();
    // A name that git cannot shorten is still one that it knows.
    return short.code === 0 && name !== '' ? name : ref;
  }
  return null;
}

async function isCommit(root: string, revision: string): Promise<boolean> {
  const asked = ['rev-parse', '--verify', '--quiet', '--end-of-options', `${revision}^{commit}`];
  return (await runGit(root, asked)).code === 0;
}
