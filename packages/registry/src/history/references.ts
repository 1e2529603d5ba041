import { runGit } from '../git/program.ts';
import type { Repository } from '../git/repository.ts';

/** A branch, a tag or any other name for an object. */
export interface Reference {
  /** E.g. `refs/heads/main`; `HEAD` for a commit that is checked out without a branch. */
  readonly name: string;
  readonly id: string;
}

/** What `git log --all` starts from, listed without looking at what is named. */
export interface References {
  /** The branch that is checked out comes first: what several reach is told as its own. */
  readonly listed: readonly Reference[];
  /** References whose file holds no object id. */
  readonly broken: readonly string[];
}

/** @throws InputError `git-stalled` */
export async function listReferences(repository: Repository): Promise<References> {
  const [all, head, worktrees] = await Promise.all([
    runGit(repository.name, ['for-each-ref', '--format=%(objectname) %(refname)']),
    runGit(repository.name, ['symbolic-ref', '-q', 'HEAD']),
    runGit(repository.name, ['worktree', 'list', '--porcelain']),
  ]);
  const listed = [...matches(all.out, /^([0-9a-f]{40,64}) (.+)$/gm)].map(([, id, name]) => ({ name, id }));
  const branch = head.out.toString('utf8').trim();
  const known = new Set(listed.map(reference => reference.id));
  const detached = [...matches(worktrees.out, /^HEAD ([0-9a-f]{40,64})$/gm)]
    .map(([, id]) => ({ name: 'HEAD', id }))
    .filter(({ id }) => !known.has(id) && !/^0+$/.test(id));
  return {
    listed: [
      ...listed.filter(({ name }) => name === branch),
      ...listed.filter(({ name }) => name !== branch),
      ...detached,
    ],
    broken: [...matches(all.err, /^warning: ignoring broken ref (.+)$/gm)].map(([, name]) => name),
  };
}

function matches(text: Buffer | string, pattern: RegExp): Iterable<RegExpExecArray> {
  return text.toString('utf8').matchAll(pattern);
}
