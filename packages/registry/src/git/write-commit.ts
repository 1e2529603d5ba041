import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { randomBytes } from 'node:crypto';
import { InputError } from '@kinprint/mesh';
import { pathBytes, pathText } from '../snapshot/path-text.ts';
import { removeAbandoned } from './abandoned.ts';
import type { Head } from './head.ts';
import { runOwnGit } from './own-program.ts';
import { must } from './store-files.ts';
import { nulRecords } from './nul-records.ts';

/** A file as a tree has it. */
export interface StoredFile {
  /** From the repository's root. */
  readonly path: string;
  readonly id: string;
  readonly mode: '100644' | '100755' | '120000' | '160000';
}

/** A change of a tree: files that come or change, and paths that go. */
export interface TreeChange {
  readonly put: readonly StoredFile[];
  readonly drop: readonly string[];
}

/** The files that a commit has below a folder, or at exactly that path. @throws InputError `git-refused` */
export async function storedBelow(root: string, commit: string | null, below: string): Promise<StoredFile[]> {
  if (commit === null) return [];
  const answer = await runOwnGit(root, ['ls-tree', '-r', '-z', '--full-tree', commit, '--', below]);
  must(answer);
  return nulRecords(answer.out).map(record => {
    const tab = record.indexOf(0x09);
    const [mode, , id] = record.subarray(0, tab).toString('latin1').split(' ');
    if (!isMode(mode)) throw new Error(`git ls-tree gave the mode ${mode}.`);
    return { path: pathText(record.subarray(tab + 1)), id, mode };
  });
}

function isMode(mode: string): mode is StoredFile['mode'] {
  return ['100644', '100755', '120000', '160000'].includes(mode);
}

/**
 * The tree of a commit with a change, made in an index of its own: the user's index, with whatever is staged there,
 * is not touched.
 *
 * @throws InputError `git-refused`
 */
export async function changedTree(root: string, head: Head, change: TreeChange): Promise<string> {
  const index = path.join(head.gitFolder, `kinprint-index-${process.pid}-${randomBytes(6).toString('hex')}`);
  const own = { GIT_INDEX_FILE: index };
  removeAbandoned(head.gitFolder, /^kinprint-index-([0-9]+)-[0-9a-f]+(?:\.lock)?$/);
  try {
    if (head.commit !== null) must(await runOwnGit(root, ['read-tree', head.commit], '', own));
    must(await runOwnGit(root, ['update-index', '-z', '--index-info'], indexInfo(change), own));
    return must(await runOwnGit(root, ['write-tree'], '', own));
  } finally {
    rmSync(index, { force: true });
    rmSync(`${index}.lock`, { force: true });
  }
}

/** A commit of a tree on top of where the branch stands; no reference names it yet. @throws InputError */
export async function makeCommit(root: string, head: Head, tree: string, message: string): Promise<string> {
  const parent = head.commit === null ? [] : ['-p', head.commit];
  const answer = await runOwnGit(root, ['commit-tree', '--no-gpg-sign', ...parent, '-F', '-', tree], message);
  if (answer.code !== 0 && /tell me who you are|empty ident|identity/i.test(answer.err)) throw nobody(root);
  return must(answer);
}

/** Who git would say the author is. @throws InputError `identity-missing` */
export async function authorName(root: string): Promise<string> {
  const answer = await runOwnGit(root, ['var', 'GIT_AUTHOR_IDENT']);
  const name = /^(.*) <[^<>]*> [0-9]+ [+-][0-9]+$/.exec(answer.out.toString('utf8').trim())?.[1];
  if (answer.code !== 0 || name === undefined || name.trim() === '') throw nobody(root);
  return name.trim();
}

function nobody(root: string): InputError {
  return new InputError(
    'identity-missing',
    'git does not know who you are, and a revision must have an author.',
    'Tell it: git config user.name "Your Name"; git config user.email you@example.org',
    { file: root },
  );
}

/**
 * Moves a branch from where it stood to a commit, if it still stands there: compare and swap, done by git under its
 * lock.
 *
 * @returns false when the branch has moved meanwhile
 * @throws InputError `git-refused` for anything else
 */
export async function moveBranch(root: string, head: Head, commit: string, why: string): Promise<boolean> {
  const before = head.commit ?? '0'.repeat(commit.length);
  const answer = await runOwnGit(root, ['update-ref', '-m', why, head.branch, commit, before]);
  if (answer.code === 0) return true;
  if (/but expected|reference already exists|File exists/.test(answer.err)) return false;
  must(answer);
  return false;
}

/** For a branch that could not be moved however often it was tried: whose lock stands in the way, if one does. */
export function branchBusy(root: string, head: Head, outcome: string): InputError {
  const locks = [
    path.join(head.gitFolder, 'HEAD.lock'),
    path.join(head.commonFolder, `${head.branch}.lock`),
    path.join(head.commonFolder, 'packed-refs.lock'),
  ].filter(lock => existsSync(lock));
  if (locks.length === 0)
    return new InputError(
      'branch-busy',
      'The branch is being moved by others all the time.',
      `${outcome} Try again.`,
      { file: root },
    );
  return new InputError(
    'branch-busy',
    'The branch is locked: another program is moving it, or one was killed and left its lock behind.',
    `${outcome} Try again; if no git is at work, remove ${locks.map(lock => path.relative(root, lock)).join(' and ')}.`,
    { file: root },
  );
}

/**
 * Tells the user's index what was committed, so that git does not show it as a change. What else is staged stays.
 *
 * @returns false when the index is locked by somebody else
 */
export async function refreshIndex(root: string, change: TreeChange): Promise<boolean> {
  const answer = await runOwnGit(root, ['update-index', '-z', '--index-info'], indexInfo(change));
  return answer.code === 0;
}

function indexInfo({ put, drop }: TreeChange): Buffer {
  const zeros = '0'.repeat(put[0]?.id.length ?? 40);
  const lines = [
    // What goes comes first: a file may take the place of a folder.
    ...drop.map(file => [`0 ${zeros}\t`, file] as const),
    ...put.map(file => [`${file.mode} ${file.id}\t`, file.path] as const),
  ];
  return Buffer.concat(lines.flatMap(([head, file]) => [Buffer.from(head), pathBytes(file), Buffer.of(0)]));
}
