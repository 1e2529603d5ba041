import { spawn, type ChildProcess } from 'node:child_process';
import { lstatSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { atExit } from '../at-exit.ts';
import { callersEnvironment, startError } from '../git/child.ts';
import type { SourceAddress } from './source-address.ts';
import { settingsName, writeSettings } from './source-copy.ts';

/** How much a fetch may take. */
export interface FetchLimits {
  readonly time_ms: number;
  /** Of the copy on disk, while it is fetched and afterwards. */
  readonly bytes: number;
}

export type FetchEnd =
  | { readonly state: 'done' }
  /** git gave up; what it complained of. */
  | { readonly state: 'failed'; readonly err: string }
  /** We gave up. */
  | { readonly state: 'late' }
  | { readonly state: 'too-large' };

/** What of the caller's environment the way to a server needs. */
const inherited = [
  'SystemRoot',
  'TMPDIR',
  'TEMP',
  'TMP',
  'SSH_AUTH_SOCK',
  'https_proxy',
  'HTTPS_PROXY',
  'no_proxy',
  'NO_PROXY',
  // Certificates that the user trusts beside the system's, as groups with a server of their own have.
  'GIT_SSL_CAINFO',
  'GIT_SSL_CAPATH',
];

/**
 * Read by the other end, too, where that is a folder of this machine: its own configuration ranks below. Everything
 * comes as one pack, whose growth can be watched; a server that sends next to nothing for a minute is given up.
 */
const settings = `[safe]
	directory = *
[core]
	fsmonitor = false
	hooksPath = /dev/null
[credential]
	helper =
[gc]
	auto = 0
[fetch]
	fsckObjects = true
	unpackLimit = 1
[transfer]
	advertiseSID = false
[http]
	lowSpeedLimit = 100
	lowSpeedTime = 60
`;

/**
 * Runs `git fetch` in a copy of ours, by the one protocol of the address, and ends it when it takes too long or too
 * much room, or when this process ends.
 *
 * @throws InputError `git-missing`
 */
export function runFetch(
  folder: string,
  address: SourceAddress,
  refspec: string,
  limits: FetchLimits,
): Promise<FetchEnd> {
  writeSettings(folder, settingsName, settings);
  const args = [
    '--no-pager',
    // Said here, it holds for hooks that stand in our copy as well.
    '-c',
    'core.hooksPath=/dev/null',
    'fetch',
    '--quiet',
    '--force',
    '--no-tags',
    '--no-recurse-submodules',
    '--no-write-fetch-head',
    '--no-auto-maintenance',
    '--upload-pack=git-upload-pack',
    '--',
    address.url,
    refspec,
  ];
  const child = spawn('git', args, {
    cwd: folder,
    env: fetchEnvironment(folder, address),
    stdio: ['ignore', 'ignore', 'pipe'],
    // A group of its own: git leaves the program that speaks to the server running when it is ended itself.
    detached: process.platform !== 'win32',
  });
  return new Promise((resolve, reject) => {
    let err = '';
    let given: 'late' | 'too-large' | null = null;
    const stop = (why: 'late' | 'too-large'): void => {
      given ??= why;
      endAll(child);
    };
    const late = setTimeout(() => stop('late'), limits.time_ms);
    const watch = setInterval(() => {
      if (packedBytes(folder) > limits.bytes) stop('too-large');
    }, watch_ms);
    const takeBack = atExit(() => endAll(child));
    const end = (): void => {
      clearTimeout(late);
      clearInterval(watch);
      takeBack();
    };
    child.stderr.on('data', (piece: Buffer) => (err = (err + piece.toString()).slice(-4096)));
    child.on('error', error => {
      end();
      reject(startError(error));
    });
    child.on('close', code => {
      end();
      if (given !== null) resolve({ state: given });
      else if (packedBytes(folder) > limits.bytes) resolve({ state: 'too-large' });
      else resolve(code === 0 ? { state: 'done' } : { state: 'failed', err });
    });
  });
}

const watch_ms = 100;

/** Ends git and all that it started. */
function endAll(child: ChildProcess): void {
  try {
    if (process.platform === 'win32' || child.pid === undefined) child.kill();
    else process.kill(-child.pid, 'SIGTERM');
  } catch {
    // It has ended by itself.
  }
}

/** Bytes of the packs of a copy, unfinished ones as well. */
function packedBytes(folder: string): number {
  const packs = path.join(folder, 'objects', 'pack');
  try {
    return readdirSync(packs)
      .map(name => lstatSync(path.join(packs, name), { throwIfNoEntry: false })?.size ?? 0)
      .reduce((sum, size) => sum + size, 0);
  } catch {
    return 0; // nothing has come yet
  }
}

function fetchEnvironment(folder: string, address: SourceAddress): Record<string, string> {
  return {
    ...callersEnvironment([...inherited, ...(address.protocol === 'ssh' ? ['HOME', 'USERPROFILE'] : [])]),
    LC_ALL: 'C',
    GIT_DIR: folder,
    GIT_CONFIG_NOSYSTEM: '1',
    GIT_CONFIG_GLOBAL: path.join(folder, settingsName),
    GIT_ATTR_NOSYSTEM: '1',
    GIT_TERMINAL_PROMPT: '0',
    GIT_ASKPASS: 'false',
    SSH_ASKPASS: 'false',
    GIT_SSH_COMMAND: 'ssh -oBatchMode=yes -oClearAllForwardings=yes',
    // Of redirections as well: from https to nothing but https.
    GIT_ALLOW_PROTOCOL: address.protocol,
    GIT_PROTOCOL_FROM_USER: '0',
    GIT_NO_LAZY_FETCH: '1',
    GIT_NO_REPLACE_OBJECTS: '1',
  };
}
