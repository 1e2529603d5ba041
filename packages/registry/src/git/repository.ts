import { readdirSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from './nearest.ts';
import { isObjectId, type GitObjects, type ObjectFormat } from './objects.ts';
import { programObjects } from './program-objects.ts';
import { runGit } from './program.ts';

/** A git repository opened for reading. */
export interface Repository {
  /** As the user named it. */
  readonly name: string;
  /** The folder that holds `objects` and `refs`, shared by all worktrees. */
  readonly commonFolder: string;
  readonly shallow: boolean;
  /** Whether it was cloned without some of its objects, to be fetched when they are needed: we never do. */
  readonly partial: boolean;
  readonly objects: GitObjects;
  /**
   * The object id that a revision names (of a commit, a tag, a tree or a blob).
   *
   * @throws InputError `revision-unknown`
   */
  resolve(revision: string): Promise<string>;
  close(): Promise<void>;
}

/**
 * Opens the repository that a folder is, or lies in: with a worktree or bare, complete, partial or shallow.
 *
 * @throws InputError `repository-not-found`, `repository-unreadable`, `git-missing`, `git-stalled`
 */
export async function openRepository(folder: string): Promise<Repository> {
  const answer = await runGit(folder, [
    'rev-parse',
    '--path-format=absolute',
    '--git-common-dir',
    '--show-object-format',
    '--is-shallow-repository',
  ]);
  // The folder's name may hold line ends, so count lines from the end.
  const lines = answer.out.toString('utf8').split('\n');
  const [format, shallow] = lines.slice(-3);
  const commonFolder = lines.slice(0, -3).join('\n');
  if (answer.code !== 0 || !isFormat(format) || !path.isAbsolute(commonFolder))
    throw notOpened(folder, answer.err);
  const objects = programObjects(path.join(commonFolder, 'objects'), format);
  return {
    name: folder,
    commonFolder,
    shallow: shallow === 'true',
    partial: hasPromises(path.join(commonFolder, 'objects', 'pack')),
    objects,
    resolve: revision => resolveRevision(folder, revision, format, shallow === 'true'),
    close: () => objects.close(),
  };
}

/** Packs whose objects may name others that only a remote has ("Partial Clone Design Notes" of git). */
function hasPromises(packs: string): boolean {
  try {
    return readdirSync(packs).some(name => name.endsWith('.promisor'));
  } catch {
    return false; // no packs
  }
}

function isFormat(text: string | undefined): text is ObjectFormat {
  return text === 'sha1' || text === 'sha256';
}

function notOpened(folder: string, err: string): InputError {
  if (/not a git repository|cannot change to/i.test(err))
    return new InputError(
      'repository-not-found',
      'There is no git repository here.',
      'Give --repo a folder that is, or lies in, a git repository.',
      {
        file: folder,
      },
    );
  return new InputError(
    'repository-unreadable',
    `git cannot open the repository: ${firstLine(err)}`,
    'Check it with git fsck.',
    {
      file: folder,
    },
  );
}

async function resolveRevision(
  folder: string,
  revision: string,
  format: ObjectFormat,
  shallow: boolean,
): Promise<string> {
  const answer = await runGit(folder, ['rev-parse', '--verify', '--end-of-options', revision]);
  const id = answer.out.toString('latin1').trim();
  if (answer.code === 0 && isObjectId(id, format)) return id;
  if (/ambiguous/.test(answer.err))
    throw new InputError(
      'revision-unknown',
      `'${revision}' is ambiguous: several objects begin so.`,
      'Write more digits.',
      {
        file: folder,
      },
    );
  const names = await referenceNames(folder);
  const remedy = [
    didYouMean(nearestNames(revision, names)),
    names.length === 0 ? 'The repository has no branches and tags yet. ' : '',
    shallow ? 'This is a shallow clone: older commits are not in it until they are fetched. ' : '',
    'Name a branch, a tag or a commit.',
  ];
  throw new InputError('revision-unknown', `There is no revision '${revision}'.`, remedy.join(''), {
    file: folder,
  });
}

/** Branches and tags, in short; at most some thousands. */
async function referenceNames(folder: string): Promise<string[]> {
  const answer = await runGit(folder, [
    'for-each-ref',
    '--count=5000',
    '--format=%(refname)',
    'refs/heads',
    'refs/tags',
    'refs/remotes',
  ]);
  return answer.out
    .toString('utf8')
    .split('\n')
    .filter(name => name !== '')
    .map(name => name.replace(/^refs\/(heads|tags|remotes)\//, ''));
}

function firstLine(text: string): string {
  return text
    .split('\n')[0]
    .replace(/^fatal: /, '')
    .slice(0, 300);
}
