import { InputError } from '@kinprint/mesh';
import { runGit } from '../git/program.ts';
import { pathText } from '../snapshot/path-text.ts';
import { registryFile, registryFolders } from './registry-files.ts';
import { nulRecords } from '../git/nul-records.ts';

/** What git says of a working copy. */
export interface WorkingGit {
  /** The repository's git folder; null where there is none, or no git program. */
  readonly commonFolder: string | null;
  /** Files that are ignored and not tracked. */
  readonly ignored: ReadonlySet<string>;
}

const none: WorkingGit = { commonFolder: null, ignored: new Set() };

/**
 * Asks git which files of a registry it ignores. Without a repository, or without git, none is.
 *
 * @remarks Runs `git ls-files`, which reads ignore files and the index and runs nothing that a configuration
 *   names (fsmonitor is overridden); `hostile-working-copy.test.ts` holds that.
 * @throws InputError `index-damaged`
 */
export async function workingGit(root: string): Promise<WorkingGit> {
  try {
    const where = await runGit(root, [
      'rev-parse',
      '--path-format=absolute',
      '--is-inside-work-tree',
      '--git-common-dir',
    ]);
    if (where.code !== 0) return none;
    const [inside, commonFolder] = where.out.toString('utf8').split('\n');
    const answer = await runGit(root, [
      'ls-files',
      '-z',
      '--others',
      '--ignored',
      '--exclude-standard',
      '--',
      registryFile,
      ...registryFolders,
    ]);
    // A folder within a bare repository has no ignored files; one in a working copy may have many.
    if (answer.code !== 0 && inside === 'true')
      throw new InputError(
        'index-damaged',
        `git cannot tell which files it ignores (${answer.err.split('\n')[0]}).`,
        "See what 'git status' says there. A damaged index is made anew by removing it and running 'git reset'.",
        { file: root },
      );
    const names = answer.code === 0 ? nulRecords(answer.out).map(pathText) : [];
    return { commonFolder, ignored: new Set(names) };
  } catch (error) {
    if (error instanceof InputError && error.code === 'git-missing') return none;
    throw error;
  }
}
