import path from 'node:path';
import { byText } from '@kinprint/compare';
import { InputError, type Note } from '@kinprint/mesh';
import { findInRevision } from '../../git/find-in-revision.ts';
import { commitOf } from '../../git/peel.ts';
import type { Repository } from '../../git/repository.ts';
import { gitEntries } from '../../git/snapshot-from-git.ts';
import { leftOut } from '../../snapshot/left-out.ts';
import { fileKind } from './file-kind.ts';
import type { CommitObject } from './commit-object.ts';
import { firstParents, type FirstParents } from './first-parents.ts';
import { treeLister, type ListedFile } from './list-tree.ts';
import type { Source, SourceFile, SourceState } from './types.ts';

export interface GitSourceOptions {
  /** A branch, a tag, a commit; what is checked out where left out. */
  readonly at?: string;
  /** The folder of the repository that is adopted, `''` for all of it. */
  readonly prefix?: string;
  /** Folders and files at its top that are not looked at. */
  readonly skip?: (name: string) => boolean;
  /** Take the one state, without those before it. */
  readonly noHistory?: boolean;
}

/**
 * A repository's history as states that differ in files of a kind that is taken: the first parents of a commit,
 * oldest first. Nothing is checked out, nothing written, and no line of the repository's configuration takes effect.
 * Closing the source closes the repository.
 *
 * @throws InputError `revision-unknown`, `path-not-found`, `path-not-regular`, `object-missing`, `object-damaged`,
 *   `tree-too-large`
 */
export async function sourceFromGit(repository: Repository, options: GitSourceOptions = {}): Promise<Source> {
  const { at = 'HEAD', prefix = '', skip = () => false } = options;
  const { objects } = repository;
  const head = await commitOf(objects, await repository.resolve(at));
  if (head === null)
    throw new InputError('object-missing', `'${at}' names no commit that can be read.`, 'Name a commit.', {
      file: repository.name,
    });
  const line = await firstParents(objects, head, options.noHistory === true ? 1 : undefined);
  if (line.commits.length === 0)
    throw new InputError(
      'object-damaged',
      `The commit ${head} cannot be read.`,
      'Check the repository with git fsck.',
      {
        file: repository.name,
      },
    );
  const left = leftOut();
  const lister = treeLister(objects, repository.name, left);
  const treeOf = async (commit: CommitObject): Promise<string | null> => {
    if (prefix === '') return commit.tree;
    try {
      const found = await findInRevision(objects, commit.id, {
        text: `${commit.id}:${prefix}`,
        revision: commit.id,
        path: prefix,
      });
      return found.kind === 'folder' ? found.id : null;
    } catch (error) {
      // The folder did not exist yet; of the newest commit, that is the answer.
      if (error instanceof InputError && commit.id !== head) return null;
      throw error;
    }
  };

  const steps: { commit: CommitObject; all: readonly ListedFile[]; taken: readonly ListedFile[] }[] = [];
  let last = '';
  for (const commit of line.commits.toReversed()) {
    const tree = await treeOf(commit);
    const all = tree === null ? [] : (await lister.list(tree)).filter(file => !skip(top(file.path)));
    const taken = all.filter(file => fileKind(file.path) !== null).sort((a, b) => byText(a.path, b.path));
    const key = taken.map(file => `${file.id} ${file.path}`).join('\0');
    if (key === last && steps.length > 0) continue;
    last = key;
    steps.push({ commit, all, taken });
  }
  // States before the first file are nobody's.
  const from = steps.findIndex(step => step.taken.length > 0);
  const some = from < 0 ? steps.slice(-1) : steps.slice(from);

  const entries = await entriesOf(
    repository,
    some.flatMap(step => step.taken),
  );
  return {
    name: at === 'HEAD' ? repository.name : `${repository.name}@${at}`,
    folder: path.basename(prefix === '' ? path.resolve(repository.name) : prefix).replace(/\.git$/, ''),
    states: some.map(({ commit, taken }): SourceState => ({
      commit: {
        id: commit.id,
        date: commit.date,
        author: commit.author,
        others: commit.others,
        subject: commit.subject,
      },
      files: taken.map(file => found(entries, file)),
    })),
    otherFiles: (some.at(-1)?.all.length ?? 0) - (some.at(-1)?.taken.length ?? 0),
    notes: [...left.notes(), ...(options.noHistory === true ? [] : cutNotes(line, repository.shallow))],
    close: () => repository.close(),
  };
}

function top(file: string): string {
  const slash = file.indexOf('/');
  return slash < 0 ? file : file.slice(0, slash);
}

/** One entry for each path and content of the history; sizes are asked for all at once. */
async function entriesOf(
  repository: Repository,
  files: readonly ListedFile[],
): Promise<Map<string, SourceFile>> {
  const distinct = new Map(files.map(file => [keyOf(file), file]));
  const entries = await gitEntries(repository, [...distinct.values()]);
  return new Map(
    [...distinct.keys()].map((key, i): [string, SourceFile] => [
      key,
      { ...entries[i], kind: fileKind(entries[i].path) ?? 'mesh' },
    ]),
  );
}

function found(entries: ReadonlyMap<string, SourceFile>, file: ListedFile): SourceFile {
  const entry = entries.get(keyOf(file));
  if (entry === undefined) throw new Error(`No entry was made for ${file.path}.`);
  return entry;
}

const keyOf = (file: ListedFile): string => `${file.id} ${file.path}`;

function cutNotes({ cut, commits }: FirstParents, shallow: boolean): Note[] {
  const oldest = commits.at(-1)?.id.slice(0, 12) ?? '';
  switch (cut) {
    case null:
      return [];
    case 'missing':
      return [
        {
          code: 'history-cut',
          text: `The history before commit ${oldest} is not in this repository${shallow ? ' (it is a shallow clone)' : ''}: fetch it to adopt it as well.`,
        },
      ];
    case 'damaged':
      return [
        { code: 'history-cut', text: `The commit before ${oldest} is damaged, so the history begins there.` },
      ];
    case 'too-many':
      return [
        {
          code: 'history-cut',
          text: `Only the newest ${commits.length} commits were followed, back to ${oldest}.`,
        },
      ];
  }
}
