import { copyFileSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { fileSource } from '../snapshot/file-source.ts';
import { pathBytes, pathText } from '../snapshot/path-text.ts';
import { hashAndClose } from '../snapshot/read-and-close.ts';
import type { Head } from './head.ts';
import { runOwnGit } from './own-program.ts';

/** A file, and where in the registry its content goes. */
export interface Placed {
  /** From the root: what the attributes are asked for. */
  readonly place: string;
  /** Absolute; the file to read. */
  readonly file: string;
}

/** Puts files of a working copy into the object store, as `storePlaced` does. @param paths from `root` */
export function storeFiles(root: string, head: Head, paths: readonly string[]): Promise<string[]> {
  return storePlaced(
    root,
    head,
    paths.map(place => ({ place, file: path.join(root, place) })),
  );
}

/**
 * Puts files into the object store, byte for byte: no line ends are converted and no filter is run. A file that the
 * attributes give to large-file storage goes into the local large-file store, and its pointer into the object store, as
 * that program does it itself. A file that goes to several places is stored once.
 *
 * @returns the blob ids, in the order of the files
 * @throws InputError `path-unsafe`, `file-filtered`, `git-refused`
 */
export async function storePlaced(root: string, head: Head, files: readonly Placed[]): Promise<string[]> {
  const broken = files.find(({ place, file }) => `${place}${file}`.includes('\n'));
  if (broken !== undefined)
    throw new InputError(
      'path-unsafe',
      'The name of a file, or of a folder above it, holds a line end.',
      'Rename it.',
      { file: broken.place },
    );
  const filters = await filtersOf(root, [...new Set(files.map(({ place }) => place))]);
  const foreign = [...filters].find(([, filter]) => filter !== 'lfs');
  if (foreign !== undefined)
    throw new InputError(
      'file-filtered',
      `The attributes give this file to the filter '${foreign[1]}', which would store other bytes than are here.`,
      'Take the filter away for devices/ in .gitattributes.',
      { file: foreign[0] },
    );
  const isLarge = ({ place }: Placed): boolean => filters.has(place);
  const plain = await storePlain(
    root,
    files.filter(file => !isLarge(file)).map(({ file }) => file),
  );
  const large = new Map<string, string>();
  for (const { file } of files.filter(isLarge))
    if (!large.has(file)) large.set(file, await storeText(root, storeLarge(file, head.commonFolder)));
  return files.map(placed => (isLarge(placed) ? large : plain).get(placed.file) ?? '');
}

/** Puts files into the object store, byte for byte, whatever the attributes say. @returns ids by file */
export async function storePlain(root: string, files: readonly string[]): Promise<Map<string, string>> {
  const distinct = [...new Set(files)];
  const lines = distinct.flatMap(file => [pathBytes(file), Buffer.of(0x0a)]);
  const out = must(
    await runOwnGit(root, ['hash-object', '-w', '--no-filters', '--stdin-paths'], Buffer.concat(lines)),
  );
  const ids = out.split('\n');
  return new Map(distinct.map((file, k) => [file, ids[k]]));
}

/** Puts a text into the object store; gives its id. @throws InputError `git-refused` */
export async function storeText(root: string, text: string): Promise<string> {
  return must(await runOwnGit(root, ['hash-object', '-w', '--no-filters', '--stdin'], text));
}

/** The filter that the attributes give each file, of those that have one; the files need not exist. */
async function filtersOf(root: string, paths: readonly string[]): Promise<Map<string, string>> {
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
function storeLarge(file: string, commonFolder: string): string {
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
