import { contentBytes, type GitObjects } from '../../git/objects.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import { parseCommit, type CommitObject } from './commit-object.ts';

/** The line of commits behind one. */
export interface FirstParents {
  /** Newest first. */
  readonly commits: readonly CommitObject[];
  /** Why the line ends before the first commit; null when it does not. */
  readonly cut: 'missing' | 'damaged' | 'too-many' | null;
}

/**
 * Follows the first parents of a commit: what the branch itself went through, each merge as one step. Reads objects
 * alone, so nothing of a stranger's configuration takes effect.
 */
export async function firstParents(
  objects: GitObjects,
  head: string,
  most: number = adoptDefaults.maxCommits,
): Promise<FirstParents> {
  const commits: CommitObject[] = [];
  for (let id: string | null = head; id !== null;) {
    if (commits.length >= most) return { commits, cut: 'too-many' };
    const object = await objects.read(id);
    if (object.state !== 'found') return { commits, cut: object.state };
    if (object.type !== 'commit') {
      object.content.close();
      return { commits, cut: 'damaged' };
    }
    const commit = parseCommit(id, contentBytes(object.content));
    if (commit === null) return { commits, cut: 'damaged' };
    commits.push(commit);
    id = commit.firstParent;
  }
  return { commits, cut: null };
}
