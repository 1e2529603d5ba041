import { randomBytes } from 'node:crypto';
import { lstatSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { isAlive } from '../git/abandoned.ts';

const marker = /^fetching-([0-9]+)-[0-9a-f]{8}$/;

/** What git leaves in a repository when it is ended while it fetches: packs and objects begun, and locks. */
const begun: readonly (readonly [string, RegExp])[] = [
  ['objects', /^tmp_/],
  [path.join('objects', 'pack'), /^tmp_|\.tmp$/],
  [path.join('refs', 'kinprint'), /\.lock$/],
  ['.', /^(packed-refs|shallow|config|HEAD)\.lock$|^(config|kinprint-config)\.[0-9]+-[0-9a-f]{8}$/],
];

/**
 * Marks a copy as being fetched into, and first tidies what killed fetches left in it.
 *
 * @returns ends it: takes the mark away and tidies again
 */
export function beginFetching(copy: string): () => void {
  tidy(copy);
  const mark = path.join(copy, `fetching-${process.pid}-${randomBytes(4).toString('hex')}`);
  writeFileSync(mark, '', { flag: 'wx' });
  return () => {
    rmSync(mark, { force: true });
    tidy(copy);
  };
}

/** Removes what was begun, unless another fetch into the same copy is still at it. */
function tidy(copy: string): void {
  // Whoever made what is listed here had set a mark before: so the order of these two matters.
  const found = begun.flatMap(([folder, names]) =>
    namesIn(path.join(copy, folder))
      .filter(name => names.test(name))
      .map(name => path.join(copy, folder, name)),
  );
  const marks = namesIn(copy).filter(name => marker.test(name));
  if (marks.some(name => isAlive(Number(marker.exec(name)?.[1])))) return;
  for (const file of [...found, ...marks.map(name => path.join(copy, name))])
    rmSync(file, { recursive: true, force: true });
}

/** None where there is no folder, or a link in its place. */
function namesIn(folder: string): string[] {
  return lstatSync(folder, { throwIfNoEntry: false })?.isDirectory() === true ? readdirSync(folder) : [];
}
