import { mkdirSync, rmSync } from 'node:fs';
import path from 'node:path';
import type { RegistrySource } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { atExit } from '../at-exit.ts';
import { registryDefaults } from '../defaults.ts';
import { removeAbandoned } from '../git/abandoned.ts';
import { beginFetching } from './leftovers.ts';
import { runFetch, type FetchEnd, type FetchLimits } from './run-fetch.ts';
import { sourceAddress, type SourceAddress } from './source-address.ts';
import {
  besideFolder,
  clearPlace,
  fetchedBranch,
  hasCopy,
  makeBare,
  putInPlace,
  sourceFolder,
  unfinishedCopy,
  writeOwnConfig,
} from './source-copy.ts';

const usualLimits: FetchLimits = {
  time_ms: registryDefaults.fetchTimeout_ms,
  bytes: registryDefaults.maxSourceBytes,
};

/**
 * Fetches a source into a bare repository of our own: one branch, with its history, no tags, no submodules, nothing
 * checked out. Neither the user's nor the source's configuration takes part, and no protocol but that of the address
 * is allowed. Run again, it fetches what is new. Whatever goes wrong, a copy that was there stays as it was, and one
 * that was not is not there.
 *
 * @returns the repository's folder
 * @throws InputError `source-address`, `source-unreachable`, `source-too-large`, `git-missing`
 */
export async function fetchSource(
  root: string,
  name: string,
  source: RegistrySource,
  cache: string,
  limits: FetchLimits = usualLimits,
): Promise<string> {
  const address = sourceAddress(source.git, root, name);
  const folder = sourceFolder(cache, address, source.branch);
  const branch = source.branch === undefined ? 'HEAD' : `refs/heads/${source.branch}`;
  const refspec = `+${branch}:${fetchedBranch}`;
  mkdirSync(path.dirname(folder), { recursive: true });
  removeAbandoned(path.dirname(folder), unfinishedCopy);
  clearPlace(folder);
  const end = hasCopy(folder)
    ? await update(folder, address, refspec, limits)
    : await fetchFirst(folder, address, refspec, limits);
  if (end.state === 'done') return folder;
  throw failure(end, root, name, address, limits);
}

async function update(
  folder: string,
  address: SourceAddress,
  refspec: string,
  limits: FetchLimits,
): Promise<FetchEnd> {
  const endFetching = beginFetching(folder);
  const takeBack = atExit(endFetching);
  try {
    writeOwnConfig(folder);
    return await runFetch(folder, address, refspec, limits);
  } finally {
    takeBack();
    endFetching();
  }
}

/** Beside its place, so that there is a whole copy or none. */
async function fetchFirst(
  folder: string,
  address: SourceAddress,
  refspec: string,
  limits: FetchLimits,
): Promise<FetchEnd> {
  const beside = besideFolder(folder);
  const remove = (): void => rmSync(beside, { recursive: true, force: true });
  const takeBack = atExit(remove);
  try {
    makeBare(beside);
    const end = await runFetch(beside, address, refspec, limits);
    if (end.state === 'done') putInPlace(beside, folder);
    return end;
  } finally {
    takeBack();
    remove();
  }
}

function failure(
  end: Exclude<FetchEnd, { state: 'done' }>,
  root: string,
  name: string,
  address: SourceAddress,
  limits: FetchLimits,
): InputError {
  const place = { file: path.join(root, 'registry.yaml') };
  if (end.state === 'too-large')
    return new InputError(
      'source-too-large',
      `The source '${name}' takes more than ${Math.round(limits.bytes / 1024 ** 2)} MiB, so fetching it was given up.`,
      'Name a branch with less history under sources, or ask who keeps it to move large files to large-file storage.',
      place,
    );
  const why =
    end.state === 'late'
      ? `it took longer than ${Math.round(limits.time_ms / 1000)} seconds.`
      : lastLine(end.err);
  return new InputError(
    'source-unreachable',
    `The source '${name}' cannot be fetched: ${why}`,
    `Check its address and branch in registry.yaml, and the way there (${address.protocol}).`,
    place,
  );
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
