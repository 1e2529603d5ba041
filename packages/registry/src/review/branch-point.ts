import { InputError } from '@kinprint/mesh';
import { runGit, type GitOutput } from '../git/program.ts';
import type { PathChange } from './file-kinds.ts';

/** Where two branches parted, and what each has since. */
export interface BranchPoint {
  /** The commit that both have; BASE itself where HEAD holds all of it, or where they share none. */
  readonly commit: string;
  /** Whether they share a commit at all, as far as history reaches. */
  readonly shared: boolean;
  readonly head: string;
  readonly after: number;
  readonly elsewhere: number;
}

/**
 * Where HEAD left BASE: what it brings is counted from there, so that what BASE got since is not seen as taken away.
 *
 * @throws InputError `revision-unknown`, `git-missing`
 */
export async function branchPoint(folder: string, base: string, head: string): Promise<BranchPoint> {
  const [from, to] = [await commitId(folder, base), await commitId(folder, head)];
  const merged = await runGit(folder, ['merge-base', from, to]);
  const common = firstLine(merged);
  const counted = await runGit(folder, ['rev-list', '--count', '--left-right', `${from}...${to}`]);
  const [elsewhere, after] = firstLine(counted).split('\t').map(Number);
  const shared = merged.code === 0 && /^[0-9a-f]{40,64}$/.test(common);
  return {
    commit: shared ? common : from,
    shared,
    head: to,
    after: after || 0,
    elsewhere: elsewhere || 0,
  };
}

async function commitId(folder: string, revision: string): Promise<string> {
  const answer = await runGit(folder, ['rev-parse', '--verify', '--end-of-options', `${revision}^{commit}`]);
  if (answer.code === 0) return firstLine(answer);
  throw new InputError(
    'revision-unknown',
    `There is no commit '${revision}'.`,
    'Name a branch, a tag or a commit.',
    { file: folder },
  );
}

function firstLine({ out }: GitOutput): string {
  return out.toString('utf8').split('\n')[0].trim();
}

/** Files of a diff that are listed at most; a commit can touch a million. */
const mostFiles = 10_000;

/** All files in which two commits differ, from the repository's root. Only names are read. */
export async function changedFiles(folder: string, before: string, after: string): Promise<PathChange[]> {
  const { code, out } = await runGit(folder, [
    'diff-tree',
    '-r',
    '-z',
    '--raw',
    '--no-renames',
    '--no-ext-diff',
    '--no-textconv',
    '--no-commit-id',
    before,
    after,
  ]);
  if (code !== 0) return [];
  const fields = out.toString('utf8').split('\0');
  const changes: PathChange[] = [];
  for (let k = 0; k + 1 < fields.length && changes.length < mostFiles; k += 2) {
    const status = fields[k].split(' ').at(-1);
    const change = status === 'A' ? 'added' : status === 'D' ? 'removed' : 'changed';
    changes.push({ path: fields[k + 1], change });
  }
  return changes;
}
