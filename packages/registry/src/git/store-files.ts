import { copyFileSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { fileSource } from '../snapshot/file-source.ts';
import { pathBytes, pathText } from '../snapshot/path-text.ts';
import { hashAndClose } from '../snapshot/read-and-close.ts';
import type { Head } from './head.ts';
import { runOwnGit } from './own-program.ts';

/**
 * Puts files of a working copy into the object store, byte for byte: no line ends are converted and no filter is
 * run. A file that the attributes give to large-file storage goes into the local large-file store, and its pointer
 * into the object store, as that program does it itself.
 *
 * @param paths from `root`
 * @returns the blob ids, in the order of the paths
 * @throws InputError `path-unsafe`, `file-filtered`, `git-refused`
 */
export async function storeFiles(root: string, head: Head, paths: readonly string[]): Promise<string[]> {
  const broken = paths.find(file => file.includes('\n'));
  if (broken !== undefined)
    throw new InputError('path-unsafe', 'The name of a file holds a line end.', 'Rename the file.', {
      file: broken,
    });
  const filters = await filtersOf(root, paths);
  const plain = paths.filter(file => !filters.has(file));
  const ids = new Map<string, string>();
  const lines = plain.flatMap(file => [pathBytes(path.join(root, file)), Buffer.of(0x0a)]);
  const out = must(
    await runOwnGit(root, ['hash-object', '-w', '--no-filters', '--stdin-paths'], Buffer.concat(lines)),
  );
  out.split('\n').forEach((id, k) => ids.set(plain[k] ?? '', id));
  for (const [file, filter] of filters) {
    if (filter !== 'lfs')
      throw new InputError(
        'file-filtered',
        `The attributes give this file to the filter '${filter}', which would store other bytes than are here.`,
        'Take the filter away for devices/ in .gitattributes.',
        { file },
      );
    ids.set(file, await storeText(root, storeLarge(path.join(root, file), head.commonFolder)));
  }
  return paths.map(file => ids.get(file) ?? '');
}

/** Puts a text into the object store; gives its id. @throws InputError `git-refused` */
export async function storeText(root: string, text: string): Promise<string> {
  return must(await runOwnGit(root, ['hash-object', '-w', '--no-filters', '--stdin'], text));
}

/** The filter that the attributes give each file, of those that have one; the files need not exist. */
export async function filtersOf(root: string, paths: readonly string[]): Promise<Map<string, string>> {
  const input = Buffer.concat(paths.flatMap(file => [pathBytes(file), Buffer.of(0)]));
  const answer = await runOwnGit(root, ['check-attr', '-z', '--stdin', 'filter'], input);
  must(answer);
  const words = answer.out.toString('latin1').split('\0');
  const filters = new Map<string, string>();
  for (let k = 0; k + 2 < words.length; k += 3) {
    const value = words[k + 2];
    if (value !== 'unspecified' && value !== 'unset')
      filters.set(pathText(Buffer.from(words[k], 'latin1')), value);
  }
  return filters;
}

/** Copies a file into the local large-file store; gives the text of its pointer. */
export function storeLarge(file: string, commonFolder: string): string {
  const source = fileSource(file);
  const { size } = source;
  const oid = hashAndClose(source);
  const folder = path.join(commonFolder, 'lfs', 'objects', oid.slice(0, 2), oid.slice(2, 4));
  const place = path.join(folder, oid);
  if (!existsSync(place)) {
    mkdirSync(folder, { recursive: true });
    const beside = `${place}.${process.pid}.tmp`;
    try {
      copyFileSync(file, beside);
      if (hashAndClose(fileSource(beside)) !== oid) throw changedMeanwhile(file);
      renameSync(beside, place);
    } finally {
      rmSync(beside, { force: true });
    }
  }
  return `version https://git-lfs.github.com/spec/v1\noid sha256:${oid}\nsize ${size}\n`;
}

export function changedMeanwhile(file: string): InputError {
  return new InputError(
    'changed-meanwhile',
    'Files changed while they were being recorded.',
    'Nothing was recorded. Wait until they are written, then record again.',
    { file },
  );
}

/** What a call printed. @throws InputError `git-refused` when it failed */
export function must(answer: { readonly code: number; readonly out: Buffer; readonly err: string }): string {
  if (answer.code === 0) return answer.out.toString('latin1').trimEnd();
  const why = answer.err.trim().split('\n')[0].slice(0, 300);
  throw new InputError(
    'git-refused',
    `git refused: ${why === '' ? 'the system ended it without a word.' : why}`,
    'Nothing was recorded. See whether git can commit here, and whether the disk is full.',
  );
}
