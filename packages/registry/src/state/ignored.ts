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
 */
export async function workingGit(root: string): Promise<WorkingGit> {
  try {
    const folder = await runGit(root, ['rev-parse', '--path-format=absolute', '--git-common-dir']);
    if (folder.code !== 0) return none;
    const commonFolder = folder.out.toString('utf8').replace(/\n$/, '');
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
    const names = answer.code === 0 ? nulRecords(answer.out).map(pathText) : [];
    return { commonFolder, ignored: new Set(names) };
  } catch (error) {
    if (error instanceof InputError && error.code === 'git-missing') return none;
    throw error;
  }
}
