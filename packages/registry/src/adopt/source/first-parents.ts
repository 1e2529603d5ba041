import { readAndClose } from '../../snapshot/read-and-close.ts';
import type { GitObjects } from '../../git/objects.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import { parseCommit, type CommitObject } from './commit-object.ts';
import type { Person } from './types.ts';

/** The line of commits behind one. */
export interface FirstParents {
  /** Newest first. */
  readonly commits: readonly CommitObject[];
  /** Why the line ends before the first commit; null when it does not. */
  readonly cut: 'missing' | 'damaged' | 'too-many' | null;
}

/**
 * Follows the first parents of a commit: what the branch itself went through, each merge as one step, with the
 * authors of what it merged. Reads objects alone, so nothing of a stranger's configuration takes effect.
 */
export async function firstParents(
  objects: GitObjects,
  head: string,
  most: number = adoptDefaults.maxCommits,
): Promise<FirstParents> {
  const commits: CommitObject[] = [];
  let cut: FirstParents['cut'] = null;
  for (let id: string | undefined = head; id !== undefined;) {
    if (commits.length >= most) {
      cut = 'too-many';
      break;
    }
    const commit: CommitObject | 'missing' | 'damaged' = await readCommit(objects, id);
    if (typeof commit === 'string') {
      cut = commit;
      break;
    }
    commits.push(commit);
    id = commit.parents[0];
  }
  return { commits: await withMergedAuthors(objects, commits, most), cut };
}

async function readCommit(objects: GitObjects, id: string): Promise<CommitObject | 'missing' | 'damaged'> {
  const object = await objects.read(id);
  if (object.state !== 'found') return object.state;
  if (object.type === 'commit') return parseCommit(id, readAndClose(object.content)) ?? 'damaged';
  object.content.close();
  return 'damaged';
}

/** Merges name who made what they merged, the oldest first; otherwise only who merged would be credited. */
async function withMergedAuthors(
  objects: GitObjects,
  line: readonly CommitObject[],
  most: number,
): Promise<CommitObject[]> {
  const seen = new Set(line.map(commit => commit.id));
  const done: CommitObject[] = [];
  for (const commit of line.toReversed()) {
    const people: Person[] = [];
    const waiting = commit.parents.slice(1);
    for (let id = waiting.pop(); id !== undefined && seen.size < 2 * most; id = waiting.pop()) {
      if (seen.has(id)) continue;
      seen.add(id);
      const merged = await readCommit(objects, id);
      if (typeof merged === 'string') continue;
      people.unshift(merged.author, ...merged.others);
      waiting.push(...merged.parents);
    }
    done.unshift(people.length === 0 ? commit : { ...commit, others: [...commit.others, ...people] });
  }
  return done;
}
