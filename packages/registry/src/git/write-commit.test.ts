import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { identity, removeTemporaryFolders, temporaryRepository } from '../testing/temporary-repository.ts';
import { readHead } from './head.ts';
import { storeFiles } from './store-files.ts';
import {
  authorName,
  branchBusy,
  changedTree,
  makeCommit,
  moveBranch,
  refreshIndex,
  storedBelow,
  type TreeChange,
} from './write-commit.ts';

beforeAll(identity);
afterAll(removeTemporaryFolders);

function started() {
  const repo = temporaryRepository();
  repo.write('devices/cuff/left/variant.yaml', 'old\n');
  repo.write('devices/cuff/left/parts/gone.stl', 'gone');
  repo.write('devices/cuff/leftover/variant.yaml', 'other');
  repo.write('top.txt', 'top');
  repo.commit('first');
  return repo;
}

async function commitOf(folder: string, change: TreeChange, message = 'B\n\nbecause') {
  const head = await readHead(folder);
  const tree = await changedTree(folder, head, change);
  return { head, commit: await makeCommit(folder, head, tree, message) };
}

describe('writing a commit', () => {
  it('puts and drops exactly what it is told, and leaves the rest of the tree and of the index alone', async () => {
    const repo = started();
    repo.write('top.txt', 'staged by the user');
    repo.git('add', 'top.txt');
    repo.write('devices/cuff/left/parts/größe [1]*.stl', 'new\r\n');
    const head = await readHead(repo.folder);
    const [id] = await storeFiles(repo.folder, head, ['devices/cuff/left/parts/größe [1]*.stl']);
    const change: TreeChange = {
      put: [{ path: 'devices/cuff/left/parts/größe [1]*.stl', id, mode: '100644' }],
      drop: ['devices/cuff/left/parts/gone.stl'],
    };
    const { commit } = await commitOf(repo.folder, change);
    expect(repo.git('rev-parse', 'HEAD')).not.toBe(commit);
    expect(await moveBranch(repo.folder, head, commit, 'test')).toBe(true);
    expect(repo.git('rev-parse', 'HEAD')).toBe(commit);
    expect(repo.git('log', '-1', '--format=%an|%ae|%s|%b')).toBe('Robin Sample|robin@example.org|B|because');
    expect(repo.git('-c', 'core.quotePath=false', 'show', '--format=', '--name-status', 'HEAD')).toBe(
      'D\tdevices/cuff/left/parts/gone.stl\nA\tdevices/cuff/left/parts/größe [1]*.stl',
    );
    expect(repo.git('show', 'HEAD:devices/cuff/left/parts/größe [1]*.stl')).toBe('new\r');
    expect(await refreshIndex(repo.folder, change)).toBe(true);
    expect(repo.git('status', '--porcelain')).toBe('M  top.txt\n?? devices/cuff/left/parts/gone.stl');
    expect(readdirSync(path.join(repo.folder, '.git')).filter(name => name.startsWith('kinprint'))).toEqual(
      [],
    );
    expect(repo.git('fsck', '--strict')).toBe('');
  });

  it('makes the first commit of a repository, from a folder within it', async () => {
    const repo = temporaryRepository();
    repo.write('group/registry.yaml', 'name: x\n');
    const root = path.join(repo.folder, 'group');
    const head = await readHead(root);
    expect(head).toMatchObject({ branch: 'refs/heads/main', commit: null, prefix: 'group/' });
    const [id] = await storeFiles(root, head, ['registry.yaml']);
    const change: TreeChange = { put: [{ path: 'group/registry.yaml', id, mode: '100644' }], drop: [] };
    const { commit } = await commitOf(root, change);
    expect(await moveBranch(root, head, commit, 'test')).toBe(true);
    expect(await refreshIndex(root, change)).toBe(true);
    expect(repo.git('status', '--porcelain')).toBe('');
    expect(await storedBelow(root, commit, 'group')).toEqual(change.put);
  });

  it('does not move a branch that has moved', async () => {
    const repo = started();
    const { head, commit } = await commitOf(repo.folder, { put: [], drop: ['top.txt'] });
    const other = repo.commit('meanwhile');
    expect(await moveBranch(repo.folder, head, commit, 'test')).toBe(false);
    expect(repo.git('rev-parse', 'HEAD')).toBe(other);
  });

  it('does not move a branch that somebody else is moving', async () => {
    const repo = started();
    const { head, commit } = await commitOf(repo.folder, { put: [], drop: ['top.txt'] });
    writeFileSync(path.join(repo.folder, '.git/refs/heads/main.lock'), '');
    expect(await moveBranch(repo.folder, head, commit, 'test')).toBe(false);
  });

  it('names the lock that stands in the way', async () => {
    const repo = started();
    const head = await readHead(repo.folder);
    const words = () => branchBusy(repo.folder, head, 'Nothing was recorded.');
    expect(words()).toMatchObject({ code: 'branch-busy', remedy: 'Nothing was recorded. Try again.' });
    writeFileSync(path.join(repo.folder, '.git/HEAD.lock'), '');
    expect(words().remedy).toBe(
      `Nothing was recorded. Try again; if no git is at work, remove ${path.join('.git', 'HEAD.lock')}.`,
    );
    writeFileSync(path.join(repo.folder, '.git/refs/heads/main.lock'), '');
    expect(words().remedy).toContain(path.join('.git', 'refs/heads/main.lock'));
  });

  it('removes the indices of processes that were killed, and no others', async () => {
    const repo = started();
    const ended = spawnSync(process.execPath, ['-e', '']).pid;
    const index = (pid: number, end = '') =>
      path.join(repo.folder, `.git/kinprint-index-${pid}-0123456789ab${end}`);
    for (const file of [index(ended), index(ended, '.lock'), index(process.ppid)]) writeFileSync(file, '');
    await commitOf(repo.folder, { put: [], drop: ['top.txt'] });
    expect([index(ended), index(ended, '.lock'), index(process.ppid)].map(file => existsSync(file))).toEqual([
      false,
      false,
      true,
    ]);
  });

  it('lists below a folder by its exact name', async () => {
    const repo = started();
    const names = async (below: string) =>
      (await storedBelow(repo.folder, 'HEAD', below)).map(file => file.path);
    expect(await names('devices/cuff/left')).toEqual([
      'devices/cuff/left/parts/gone.stl',
      'devices/cuff/left/variant.yaml',
    ]);
    expect(await names('devices/cuff/le*')).toEqual([]);
    expect(await names('top.txt')).toEqual(['top.txt']);
  });

  it('runs no hook and signs nothing, whatever the repository is set to', async () => {
    const repo = started();
    const proof = path.join(repo.folder, 'ran');
    for (const hook of [
      'pre-commit',
      'commit-msg',
      'post-commit',
      'reference-transaction',
      'post-index-change',
    ]) {
      mkdirSync(path.join(repo.folder, '.git/hooks'), { recursive: true });
      writeFileSync(path.join(repo.folder, '.git/hooks', hook), `#!/bin/sh\ntouch '${proof}'\nexit 1\n`, {
        mode: 0o755,
      });
    }
    repo.git('config', 'commit.gpgSign', 'true');
    repo.git('config', 'gpg.program', '/bin/false');
    const change: TreeChange = { put: [], drop: ['top.txt'] };
    const { head, commit } = await commitOf(repo.folder, change);
    expect(await moveBranch(repo.folder, head, commit, 'test')).toBe(true);
    expect(await refreshIndex(repo.folder, change)).toBe(true);
    expect(existsSync(proof)).toBe(false);
    // The bait works.
    expect(() => repo.git('commit', '--allow-empty', '-m', 'x')).toThrow();
    expect(existsSync(proof)).toBe(true);
  });

  it('stores large files as their program does, and refuses other filters', async () => {
    const repo = started();
    repo.write('.gitattributes', '*.stl filter=lfs\n*.ply filter=other\n');
    repo.write('a.stl', 'large content');
    repo.write('b.ply', 'x');
    const head = await readHead(repo.folder);
    const [id] = await storeFiles(repo.folder, head, ['a.stl']);
    const oid = createHash('sha256').update('large content').digest('hex');
    expect(repo.git('cat-file', 'blob', id)).toBe(
      `version https://git-lfs.github.com/spec/v1\noid sha256:${oid}\nsize 13`,
    );
    const stored = path.join(repo.folder, '.git/lfs/objects', oid.slice(0, 2), oid.slice(2, 4), oid);
    expect(readFileSync(stored, 'utf8')).toBe('large content');
    await expect(storeFiles(repo.folder, head, ['b.ply'])).rejects.toMatchObject({ code: 'file-filtered' });
  });

  it('says who commits', async () => {
    expect(await authorName(started().folder)).toBe('Robin Sample');
  });
});

describe('readHead', () => {
  it('refuses where a commit would go astray', async () => {
    const repo = started();
    repo.git('checkout', '-q', '--detach');
    await expect(readHead(repo.folder)).rejects.toMatchObject({ code: 'head-detached' });
    repo.git('switch', '-q', '-c', 'side');
    repo.write('top.txt', 'side');
    repo.commit('side');
    repo.git('switch', '-q', 'main');
    repo.write('top.txt', 'main');
    repo.commit('main');
    expect(() => repo.git('merge', 'side')).toThrow();
    await expect(readHead(repo.folder)).rejects.toMatchObject({ code: 'repository-busy' });
  });
});
