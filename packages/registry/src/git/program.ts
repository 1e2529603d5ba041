import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';

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
  const inherited = Object.fromEntries(
    ['SystemRoot', 'TMPDIR', 'TEMP', 'TMP'].flatMap(name => {
      const value = process.env[name];
      return value === undefined ? [] : [[name, value]];
    }),
  );
  // A relative folder in PATH would look for programs in whatever folder git runs in.
  const folders = (process.env['PATH'] ?? '').split(path.delimiter).filter(folder => path.isAbsolute(folder));
  return {
    ...inherited,
    PATH: folders.join(path.delimiter),
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
 * `for-each-ref`, `ls-tree`, `cat-file` without filters, `ls-files --others`, `log --raw --no-show-signature`.
 *
 * @param input what it reads from its standard input
 * @param extra more of its environment
 * @throws InputError `git-missing`, `git-stalled`
 */
export function runGit(
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
  child.stdin.on('error', () => undefined); // the end of the child says why
  child.stdin.end(input);
  return new Promise((resolve, reject) => {
    const out: Buffer[] = [];
    let err = '';
    child.stdout.on('data', (piece: Buffer) => out.push(piece));
    child.stderr.on('data', (piece: Buffer) => (err = (err + piece.toString()).slice(0, 4096)));
    child.on('error', error => reject(startError(error)));
    child.on('close', code => {
      if (code !== null) resolve({ code, out: Buffer.concat(out), err });
      else
        reject(
          new InputError('git-stalled', 'git did not answer.', 'Check the repository with git fsck.', {
            file: folder,
          }),
        );
    });
  });
}

/**
 * Starts a git call that reads objects. `gitFolder` is our own empty one, so that the stranger's configuration is
 * not even read; `objects` is the stranger's object store.
 */
export function startObjectReader(
  gitFolder: string,
  objects: string,
  args: readonly string[],
): ChildProcessWithoutNullStreams {
  return spawn('git', ['--no-pager', ...args], {
    cwd: gitFolder,
    env: environment({ GIT_DIR: gitFolder, GIT_OBJECT_DIRECTORY: objects }),
    stdio: ['pipe', 'pipe', 'pipe'],
  });
}

/** What a child that could not be started means for the user. */
export function startError(error: Error): Error {
  return 'code' in error && error.code === 'ENOENT'
    ? new InputError(
        'git-missing',
        'The program git was not found.',
        'Install git, or compare files and folders.',
      )
    : error;
}
