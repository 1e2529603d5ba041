import { createHash, randomBytes } from 'node:crypto';
import { lstatSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { SourceAddress } from './source-address.ts';

/** The branch of a fetched source, in our own copy of it. */
export const fetchedBranch = 'refs/kinprint/source';

/** The settings of a fetch, in the copy. */
export const settingsName = 'kinprint-config';

const ownConfig = '[core]\n\trepositoryFormatVersion = 0\n\tbare = true\n';

/** Where a source's copy lies: by its address and branch, below the cache's folder. */
export function sourceFolder(cache: string, address: SourceAddress, branch: string | undefined): string {
  const key = createHash('sha256')
    .update(`${address.url}\0${branch ?? ''}`)
    .digest('hex')
    .slice(0, 32);
  return path.join(cache, 'sources', key);
}

/** Names of copies that are only being made; the first group is the id of the process that makes them. */
export const unfinishedCopy = /^[0-9a-f]{32}\.([0-9]+)-[0-9a-f]{8}$/;

/** Where a copy is made before it is put in its place. */
export function besideFolder(folder: string): string {
  return `${folder}.${process.pid}-${randomBytes(4).toString('hex')}`;
}

/** Whether there is a copy. A link is none: we never make one. */
export function hasCopy(folder: string): boolean {
  return lstatSync(folder, { throwIfNoEntry: false })?.isDirectory() === true;
}

/** Takes away what lies in the place of a copy and is none, so that nothing is written through it. */
export function clearPlace(folder: string): void {
  if (!hasCopy(folder)) rmSync(folder, { force: true });
}

/** A bare repository, made by us and not by `git init`: no template, no hooks. */
export function makeBare(folder: string): void {
  for (const name of ['refs', 'objects']) mkdirSync(path.join(folder, name), { recursive: true });
  writeFileSync(path.join(folder, 'HEAD'), `ref: ${fetchedBranch}\n`);
  writeOwnConfig(folder);
}

/** Before each fetch: caches are handed on, by build machines above all, and git runs programs that settings name. */
export function writeOwnConfig(folder: string): void {
  writeSettings(folder, 'config', ownConfig);
}

/** Written anew, never through a link. */
export function writeSettings(folder: string, name: string, text: string): void {
  const beside = path.join(folder, `${name}.${process.pid}-${randomBytes(4).toString('hex')}`);
  writeFileSync(beside, text, { flag: 'wx' });
  renameSync(beside, path.join(folder, name));
}

/** Puts a finished copy in its place in one step; where somebody else was faster, theirs stays. */
export function putInPlace(beside: string, folder: string): void {
  try {
    renameSync(beside, folder);
  } catch (error) {
    if (!hasCopy(folder)) throw error;
    rmSync(beside, { recursive: true, force: true });
  }
}
