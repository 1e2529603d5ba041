import { createHash, randomBytes } from 'node:crypto';
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { RegistrySource } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { callersEnvironment, startError } from '../git/child.ts';
import { sourceAddress, type SourceAddress } from './source-address.ts';

/** The branch of a fetched source, in our own copy of it. */
export const fetchedBranch = 'refs/kinprint/source';

const ownConfig = '[core]\n\trepositoryFormatVersion = 0\n\tbare = true\n';
const settingsName = 'kinprint-config';

/** Where a source's copy lies: by its address and branch, below the cache's folder. */
export function sourceFolder(cache: string, address: SourceAddress, branch: string | undefined): string {
  const key = createHash('sha256')
    .update(`${address.url}\0${branch ?? ''}`)
    .digest('hex')
    .slice(0, 32);
  return path.join(cache, 'sources', key);
}

/**
 * Fetches a source into a bare repository of our own: one branch, with its history, no tags, no submodules, nothing
 * checked out. Neither the user's nor the source's configuration takes part, and no protocol but that of the address
 * is allowed. Run again, it fetches what is new.
 *
 * @returns the repository's folder
 * @throws InputError `source-address`, `source-unreachable`, `git-missing`
 */
export async function fetchSource(
  root: string,
  name: string,
  source: RegistrySource,
  cache: string,
): Promise<string> {
  const address = sourceAddress(source.git, root, name);
  const folder = sourceFolder(cache, address, source.branch);
  if (!existsSync(folder)) makeBare(folder);
  else writeSettings(folder, 'config', ownConfig);
  const branch = source.branch === undefined ? 'HEAD' : `refs/heads/${source.branch}`;
  const answer = await runFetch(folder, address, [
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
    `+${branch}:${fetchedBranch}`,
  ]);
  if (answer.code === 0) return folder;
  throw new InputError(
    'source-unreachable',
    `The source '${name}' cannot be fetched: ${lastLine(answer.err)}`,
    `Check its address and branch in registry.yaml, and the way there (${address.protocol}).`,
    { file: path.join(root, 'registry.yaml') },
  );
}

/** Made by us, not by `git init`: no template, no hooks. In place in one step, as two may fetch at once. */
function makeBare(folder: string): void {
  const beside = `${folder}.${process.pid}-${randomBytes(4).toString('hex')}`;
  for (const name of ['refs', 'objects']) mkdirSync(path.join(beside, name), { recursive: true });
  writeFileSync(path.join(beside, 'HEAD'), `ref: ${fetchedBranch}\n`);
  writeSettings(beside, 'config', ownConfig);
  try {
    renameSync(beside, folder);
  } catch (error) {
    rmSync(beside, { recursive: true, force: true });
    if (!existsSync(folder)) throw error;
  }
}

/**
 * Written anew before each fetch, and never through a link: caches are handed on, by build machines above all, and
 * git runs programs that settings name.
 */
function writeSettings(folder: string, name: string, text: string): void {
  const beside = path.join(folder, `${name}.${process.pid}-${randomBytes(4).toString('hex')}`);
  writeFileSync(beside, text, { flag: 'wx' });
  renameSync(beside, path.join(folder, name));
}

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
];

function runFetch(
  folder: string,
  address: SourceAddress,
  args: readonly string[],
): Promise<{ readonly code: number; readonly err: string }> {
  const names = [...inherited, ...(address.protocol === 'ssh' ? ['HOME', 'USERPROFILE'] : [])];
  // Read by the other end, too, where that is a folder of this machine: its own configuration ranks below.
  writeSettings(
    folder,
    settingsName,
    '[safe]\n\tdirectory = *\n[core]\n\tfsmonitor = false\n\thooksPath = /dev/null\n[credential]\n\thelper =\n[gc]\n\tauto = 0\n[fetch]\n\tfsckObjects = true\n[transfer]\n\tadvertiseSID = false\n',
  );
  // Said here, it holds for hooks that stand in our copy as well.
  const child = spawn('git', ['--no-pager', '-c', 'core.hooksPath=/dev/null', ...args], {
    cwd: folder,
    env: {
      ...callersEnvironment(names),
      LC_ALL: 'C',
      GIT_DIR: folder,
      GIT_CONFIG_NOSYSTEM: '1',
      GIT_CONFIG_GLOBAL: path.join(folder, settingsName),
      GIT_ATTR_NOSYSTEM: '1',
      GIT_TERMINAL_PROMPT: '0',
      GIT_ASKPASS: 'false',
      SSH_ASKPASS: 'false',
      GIT_SSH_COMMAND: 'ssh -oBatchMode=yes -oClearAllForwardings=yes',
      GIT_ALLOW_PROTOCOL: address.protocol,
      GIT_PROTOCOL_FROM_USER: '0',
      GIT_NO_LAZY_FETCH: '1',
      GIT_NO_REPLACE_OBJECTS: '1',
    },
    stdio: ['ignore', 'ignore', 'pipe'],
    timeout: registryDefaults.fetchTimeout_ms,
  });
  return new Promise((resolve, reject) => {
    let err = '';
    child.stderr.on('data', (piece: Buffer) => (err = (err + piece.toString()).slice(-4096)));
    child.on('error', error => reject(startError(error)));
    child.on('close', code => resolve({ code: code ?? 1, err: code === null ? 'it took too long' : err }));
  });
}

function lastLine(text: string): string {
  const lines = text.split('\n').map(line => line.trim());
  // Where git only says that it could not read, the program that it asked has said why.
  const fatal =
    lines.find(line => line.startsWith('fatal: ') && !/Could not read from remote/.test(line)) ??
    lines.find(line => /^ssh: |denied|verification failed/.test(line)) ??
    lines.find(line => line.startsWith('fatal: ')) ??
    lines.filter(Boolean).at(-1) ??
    'no reason given';
  return fatal.replace(/^fatal: /, '').slice(0, 300);
}
