import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { callersEnvironment, outputOf } from './child.ts';

/**
 * Settings that outrank a repository's own. The calls made here run no program that a configuration can name; these
 * lines are the second lock on the same door. `safe.directory` is lifted because git's question (may this
 * repository's configuration be trusted?) does not arise where nothing it names is run.
 */
const outranking = [
  'core.fsmonitor=false',
  'core.hooksPath=/dev/null',
  'core.pager=cat',
  'core.sshCommand=false',
  'core.askPass=false',
  'credential.helper=',
  'protocol.allow=never',
  'safe.directory=*',
];

/** The environment of every git call: nothing of the caller's but where programs and temporary files are. */
function environment(extra: Readonly<Record<string, string>>): Record<string, string> {
  return {
    ...callersEnvironment(['SystemRoot', 'TMPDIR', 'TEMP', 'TMP']),
    LC_ALL: 'C',
    GIT_CONFIG_NOSYSTEM: '1',
    GIT_CONFIG_GLOBAL: '/dev/null',
    GIT_ATTR_NOSYSTEM: '1',
    GIT_OPTIONAL_LOCKS: '0',
    GIT_NO_REPLACE_OBJECTS: '1',
    GIT_TERMINAL_PROMPT: '0',
    GIT_PAGER: 'cat',
    // A partial clone must never be completed over the network. The first is honored from git 2.39.4 on; the
    // second, an empty list of allowed protocols, stops older ones.
    GIT_NO_LAZY_FETCH: '1',
    GIT_ALLOW_PROTOCOL: '',
    ...extra,
  };
}

export interface GitOutput {
  readonly code: number;
  readonly out: Buffer;
  readonly err: string;
}

/**
 * Runs one git call in `folder` to its end, within `registryDefaults.gitTimeout_ms`.
 *
 * Call only what never runs a program named in the repository's configuration: `rev-parse`, `rev-list`,
 * `for-each-ref`, `ls-tree`, `cat-file` without filters, `ls-files --others`, `log --raw --no-show-signature`,
 * `merge-base`, `diff-tree --raw --no-ext-diff --no-textconv`.
 *
 * @param input what it reads from its standard input
 * @param extra more of its environment
 * @throws InputError `git-missing`, `git-stalled`
 */
export async function runGit(
  folder: string,
  args: readonly string[],
  input: Uint8Array = new Uint8Array(0),
  extra: Readonly<Record<string, string>> = {},
): Promise<GitOutput> {
  const settings = outranking.flatMap(setting => ['-c', setting]);
  const child = spawn('git', ['--no-pager', '-C', path.resolve(folder), ...settings, ...args], {
    cwd: tmpdir(),
    env: environment(extra),
    stdio: ['pipe', 'pipe', 'pipe'],
    timeout: registryDefaults.gitTimeout_ms,
  });
  const { code, out, err } = await outputOf(child, input);
  if (code !== null) return { code, out, err };
  throw new InputError('git-stalled', 'git did not answer.', 'Check the repository with git fsck.', {
    file: folder,
  });
}

/**
 * Starts a git call that reads objects. `gitFolder` is our own empty one, so that the stranger's configuration is
 * not even read; `objects` is the stranger's object store. Once git has answered it needs the folder no more.
 */
export function startObjectReader(
  gitFolder: string,
  objects: string,
  args: readonly string[],
): ChildProcessWithoutNullStreams {
  return spawn('git', ['--no-pager', ...args], {
    cwd: tmpdir(),
    env: environment({ GIT_DIR: gitFolder, GIT_OBJECT_DIRECTORY: objects }),
    stdio: ['pipe', 'pipe', 'pipe'],
  });
}
