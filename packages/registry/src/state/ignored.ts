import { InputError } from '@kinprint/mesh';
import { runGit } from '../git/program.ts';
import { pathBytes, pathText } from '../snapshot/path-text.ts';

/** What git says of a working copy. */
export interface WorkingGit {
  /** The repository's git folder; null where there is none, or no git program. */
  readonly commonFolder: string | null;
  /** Those of the paths that are ignored and not tracked. */
  readonly ignored: ReadonlySet<string>;
}

const none: WorkingGit = { commonFolder: null, ignored: new Set() };

/**
 * Asks git which paths it ignores. Without a repository, or without git, none is.
 *
 * @remarks Runs `git check-ignore`, which reads ignore files and the index and runs nothing that a configuration
 *   names (fsmonitor is overridden); `hostile-working-copy.test.ts` holds that.
 */
export async function workingGit(root: string, paths: readonly string[]): Promise<WorkingGit> {
  try {
    const folder = await runGit(root, ['rev-parse', '--path-format=absolute', '--git-common-dir']);
    if (folder.code !== 0) return none;
    const commonFolder = folder.out.toString('utf8').replace(/\n$/, '');
    const input = Buffer.concat(paths.flatMap(path => [Buffer.from(`./`), pathBytes(path), zero]));
    const answer = await runGit(root, ['check-ignore', '-z', '--stdin'], input);
    const names = answer.code === 0 ? split(answer.out) : [];
    return { commonFolder, ignored: new Set(names.map(name => name.replace(/^\.\//, ''))) };
  } catch (error) {
    if (error instanceof InputError && error.code === 'git-missing') return none;
    throw error;
  }
}

const zero = Buffer.of(0);

function split(bytes: Buffer): string[] {
  const names: string[] = [];
  for (let at = 0; at < bytes.length;) {
    const end = bytes.indexOf(0, at);
    names.push(pathText(bytes.subarray(at, end < 0 ? bytes.length : end)));
    at = end < 0 ? bytes.length : end + 1;
  }
  return names;
}
