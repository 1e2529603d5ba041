import { spawn } from 'node:child_process';
import path from 'node:path';
import { registryDefaults } from '../defaults.ts';
import { callersEnvironment, outputOf } from './child.ts';
import type { GitOutput } from './program.ts';

/**
 * What is set aside of the user's own settings when we write to the user's own repository: no hook is run, nothing
 * is signed, nothing is fetched. Name and mail address, and where git keeps them, stay the user's.
 */
const setAside = [
  'core.fsmonitor=false',
  'core.hooksPath=/dev/null',
  'core.pager=cat',
  'commit.gpgSign=false',
  'gc.auto=0',
  'maintenance.auto=false',
  'advice.detachedHead=false',
];

/** What of the caller's environment git needs to know the user. */
const inherited = [
  'HOME',
  'XDG_CONFIG_HOME',
  'USERPROFILE',
  'SystemRoot',
  'TMPDIR',
  'TEMP',
  'TMP',
  'EMAIL',
  'GIT_AUTHOR_NAME',
  'GIT_AUTHOR_EMAIL',
  'GIT_AUTHOR_DATE',
  'GIT_COMMITTER_NAME',
  'GIT_COMMITTER_EMAIL',
  'GIT_COMMITTER_DATE',
  'GIT_CONFIG_GLOBAL',
  'GIT_CONFIG_NOSYSTEM',
];

/**
 * Runs one plumbing call of git in the user's own repository: `hash-object`, `read-tree`, `update-index`,
 * `write-tree`, `commit-tree`, `update-ref`, `symbolic-ref`, `var`, `init`.
 *
 * @throws InputError `git-missing`
 */
export async function runOwnGit(
  folder: string,
  args: readonly string[],
  input: Uint8Array | string = '',
  extra: Readonly<Record<string, string>> = {},
): Promise<GitOutput> {
  const settings = setAside.flatMap(setting => ['-c', setting]);
  const child = spawn('git', ['--no-pager', '-C', path.resolve(folder), ...settings, ...args], {
    env: {
      ...callersEnvironment(inherited),
      LC_ALL: 'C',
      GIT_TERMINAL_PROMPT: '0',
      GIT_NO_LAZY_FETCH: '1',
      GIT_NO_REPLACE_OBJECTS: '1',
      GIT_LITERAL_PATHSPECS: '1',
      ...extra,
    },
    stdio: ['pipe', 'pipe', 'pipe'],
    timeout: registryDefaults.gitWriteTimeout_ms,
  });
  const { code, out, err } = await outputOf(child, input);
  return { code: code ?? 128, out, err };
}
