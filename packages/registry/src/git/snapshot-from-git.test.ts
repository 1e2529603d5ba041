import { createHash } from 'node:crypto';
import {
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Snapshot, SnapshotEntry } from '../snapshot/types.ts';
import {
  gitIn,
  gitWith,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../testing/temporary-repository.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import { openRepository } from './repository.ts';
import { parseRevisionSpec } from './revision-spec.ts';
import { snapshotFromGit } from './snapshot-from-git.ts';

afterAll(removeTemporaryFolders);

async function withSnapshot<T>(
  folder: string,
  text: string,
  use: (snapshot: Snapshot) => Promise<T> | T,
): Promise<T> {
  const repository = await openRepository(folder);
  try {
    return await use(await snapshotFromGit(repository, parseRevisionSpec(text)[0]));
  } finally {
    await repository.close();
  }
}

async function text(entry: SnapshotEntry | undefined): Promise<string> {
  if (entry === undefined) throw new Error('no such entry');
  return Buffer.from(readAndClose(await entry.open())).toString('latin1');
}

const paths = (snapshot: Snapshot) => snapshot.entries.map(entry => entry.path);

function cuffRepository() {
  const repo = temporaryRepository();
  repo.write('parts/shell.stl', 'shell, first');
  repo.write('parts/deep/Clip.STL', 'clip');
  repo.write('buckle.3mf', 'buckle');
  repo.write('notes.txt', 'no mesh');
  repo.write('.hidden/secret.stl', 'hidden');
  repo.write('node_modules/x/y.stl', 'not ours');
  repo.commit('first');
  repo.git('tag', '-a', '-m', 'the first', 'rev-A');
  repo.write('parts/shell.stl', 'shell, second');
  repo.commit('second');
  return repo;
}

describe('reading a git state', () => {
  test('lists and reads the mesh files of a commit, a tag and a folder, as git itself has them', async () => {
    const repo = cuffRepository();
    await withSnapshot(repo.folder, 'rev-A', async snapshot => {
      expect(snapshot.kind).toBe('tree');
      expect(paths(snapshot)).toEqual(['buckle.3mf', 'parts/deep/Clip.STL', 'parts/shell.stl']);
      expect(await text(snapshot.entries[2])).toBe('shell, first');
      expect(snapshot.entries[2].size).toBe(12);
      expect(snapshot.entries[2].digest).toBe(`git-sha1:${repo.git('rev-parse', 'rev-A:parts/shell.stl')}`);
    });
    await withSnapshot(repo.folder, 'main:parts/', async snapshot => {
      expect(paths(snapshot)).toEqual(['deep/Clip.STL', 'shell.stl']);
      expect(await text(snapshot.entries[1])).toBe('shell, second');
    });
    const blob = repo.git('rev-parse', 'HEAD:buckle.3mf');
    for (const spec of ['HEAD~1:./parts//shell.stl', blob])
      await withSnapshot(repo.folder, spec, snapshot => {
        expect(snapshot.kind).toBe('file');
        expect(snapshot.entries).toHaveLength(1);
      });
  });

  test('leaves the repository as it was', async () => {
    const repo = cuffRepository();
    const state = () =>
      readdirSync(repo.folder, { recursive: true, withFileTypes: true })
        .map(item => path.join(item.parentPath, item.name))
        .sort();
    const before = state();
    await withSnapshot(repo.folder, 'rev-A', async snapshot => Promise.all(snapshot.entries.map(text)));
    expect(state()).toEqual(before);
  });

  test('reads bare, packed, linked-worktree, alternate and SHA-256 repositories', async () => {
    const repo = cuffRepository();
    const bare = path.join(temporaryFolder(), 'bare');
    gitIn('/', 'clone', '-q', '--bare', repo.folder, bare);
    const packed = path.join(temporaryFolder(), 'packed');
    gitIn('/', 'clone', '-q', '--no-local', `file://${repo.folder}`, packed);
    gitIn(packed, 'pack-refs', '--all');
    const worktree = path.join(temporaryFolder(), 'tree');
    repo.git('worktree', 'add', '-q', worktree, 'rev-A');
    const shared = path.join(temporaryFolder(), 'shared');
    gitIn('/', 'clone', '-q', '--shared', repo.folder, shared);
    const sha256 = temporaryRepository('--object-format=sha256');
    sha256.write('parts/shell.stl', 'shell, first');
    sha256.commit('first');
    sha256.git('tag', 'rev-A');
    for (const folder of [bare, packed, worktree, shared, sha256.folder])
      await withSnapshot(folder, 'rev-A:parts/shell.stl', async snapshot =>
        expect(await text(snapshot.entries[0])).toBe('shell, first'),
      );
    await withSnapshot(sha256.folder, 'main', snapshot =>
      expect(snapshot.entries[0].digest).toMatch(/^git-sha256:[0-9a-f]{64}$/),
    );
    await withSnapshot(worktree, 'HEAD', async snapshot =>
      expect(await text(snapshot.entries[2])).toBe('shell, first'),
    );
    await withSnapshot(path.join(repo.folder, 'parts'), 'main', snapshot =>
      expect(paths(snapshot)).toContain('parts/shell.stl'),
    );
  });

  test('keeps odd names: line ends, quotes, backslashes, UTF-8 and bytes that are no UTF-8', async () => {
    const repo = temporaryRepository();
    const content = gitWith(repo.folder, 'odd', 'hash-object', '-w', '--stdin');
    const names = ['line\nend.stl', 'quo"te\\.stl', 'fußstück-✓.stl'].map(name => Buffer.from(name));
    names.push(Buffer.from('stück.stl', 'latin1'));
    const index = Buffer.concat(
      names.map(name => Buffer.concat([Buffer.from(`100644 ${content}\t`), name, Buffer.from('\0')])),
    );
    gitWith(repo.folder, index, 'update-index', '--add', '-z', '--index-info');
    repo.git('commit', '-q', '-m', 'odd');
    await withSnapshot(repo.folder, 'HEAD', async snapshot => {
      expect(paths(snapshot)).toEqual(['fußstück-✓.stl', 'line\nend.stl', 'quo"te\\.stl', 'st\udcfcck.stl']);
      expect(await Promise.all(snapshot.entries.map(text))).toEqual(['odd', 'odd', 'odd', 'odd']);
    });
    for (const name of ['line\nend.stl', 'st\udcfcck.stl'])
      await withSnapshot(repo.folder, `HEAD:${name}`, async snapshot =>
        expect(await text(snapshot.entries[0])).toBe('odd'),
      );
  });

  test('notes links and submodules, and follows neither', async () => {
    const repo = temporaryRepository();
    repo.write('real.stl', 'real');
    symlinkSync('/etc/hostname', path.join(repo.folder, 'link.stl'));
    const first = repo.commit('first');
    gitWith(repo.folder, `160000 ${first}\tinner\n`, 'update-index', '--add', '--index-info');
    repo.git('commit', '-q', '-m', 'submodule');
    await withSnapshot(repo.folder, 'HEAD', snapshot => {
      expect(paths(snapshot)).toEqual(['real.stl']);
      expect(snapshot.notes.map(note => note.code).sort()).toEqual(['link-skipped', 'submodule-skipped']);
      expect(snapshot.notes.map(note => note.text).join()).toContain('inner');
    });
    await expect(withSnapshot(repo.folder, 'HEAD:link.stl', () => 0)).rejects.toMatchObject({
      code: 'path-not-regular',
    });
  });
});

describe('what a repository does not hold', () => {
  async function problems(folder: string) {
    return withSnapshot(folder, 'HEAD', async snapshot => ({
      problems: Object.fromEntries(snapshot.entries.map(entry => [entry.path, entry.problem?.code ?? null])),
      opened: await Promise.all(
        snapshot.entries.map(entry =>
          entry.open().then(
            source => source.size,
            (error: unknown) => (error as { code: string }).code,
          ),
        ),
      ),
      notes: snapshot.notes.map(note => note.code),
    }));
  }

  test('a partial clone: missing files are named, the rest is read', async () => {
    const repo = cuffRepository();
    repo.git('config', 'uploadpack.allowFilter', 'true');
    const partial = path.join(temporaryFolder(), 'partial');
    gitIn('/', 'clone', '-q', '--no-checkout', '--filter=blob:none', `file://${repo.folder}`, partial);
    gitIn(partial, 'cat-file', 'blob', 'HEAD:parts/shell.stl'); // git fetches this one
    const result = await problems(partial);
    expect(result.problems).toEqual({
      'buckle.3mf': 'missing',
      'parts/deep/Clip.STL': 'missing',
      'parts/shell.stl': null,
    });
    expect(result.opened).toEqual(['missing', 'missing', 13]);
  });

  test('a clone without trees: the folder is noted; without the root nothing can be listed', async () => {
    const repo = cuffRepository();
    repo.git('config', 'uploadpack.allowFilter', 'true');
    const partial = path.join(temporaryFolder(), 'treeless');
    gitIn('/', 'clone', '-q', '--no-checkout', '--filter=tree:1', `file://${repo.folder}`, partial);
    const result = await problems(partial);
    expect(result.problems).toEqual({ 'buckle.3mf': 'missing' });
    expect(result.notes).toEqual(['folder-missing']);
    const rootless = path.join(temporaryFolder(), 'rootless');
    gitIn('/', 'clone', '-q', '--no-checkout', '--filter=tree:0', `file://${repo.folder}`, rootless);
    await expect(withSnapshot(rootless, 'HEAD', snapshot => snapshot.notes)).rejects.toMatchObject({
      code: 'object-missing',
    });
  });

  test('a shallow clone: what it holds is read, what lies before it is explained', async () => {
    const repo = cuffRepository();
    const shallow = path.join(temporaryFolder(), 'shallow');
    gitIn('/', 'clone', '-q', '--depth=1', `file://${repo.folder}`, shallow);
    await withSnapshot(shallow, 'HEAD', async snapshot =>
      expect(await text(snapshot.entries[2])).toBe('shell, second'),
    );
    await expect(withSnapshot(shallow, 'HEAD~1', () => 0)).rejects.toMatchObject({
      code: 'revision-unknown',
      remedy: expect.stringContaining('shallow') as string,
    });
  });

  test('damaged objects: each is named, the rest is read', async () => {
    const repo = cuffRepository();
    const file = (id: string) => path.join(repo.folder, '.git/objects', id.slice(0, 2), id.slice(2));
    const clip = file(repo.git('rev-parse', 'HEAD:parts/deep/Clip.STL'));
    const buckle = file(repo.git('rev-parse', 'HEAD:buckle.3mf'));
    rmSync(clip);
    writeFileSync(clip, 'rubbish');
    // A sound header, then nothing: the size is known, the content is not.
    const whole = readFileSync(buckle);
    rmSync(buckle);
    writeFileSync(buckle, whole.subarray(0, whole.length - 8));
    const result = await problems(repo.folder);
    expect(result.problems['parts/deep/Clip.STL']).not.toBe(null);
    expect(result.problems['parts/shell.stl']).toBe(null);
    expect(result.opened[0]).toBe('unreadable');
    expect(result.opened[2]).toBe(13);
  });

  test('large-file pointers: read from the local store, named when not there or damaged', async () => {
    const repo = temporaryRepository();
    const pointer = (content: string, size = content.length) =>
      `version https://git-lfs.github.com/spec/v1\noid sha256:${createHash('sha256').update(content).digest('hex')}\nsize ${size}\n`;
    const store = (content: string, as: string) => {
      const oid = createHash('sha256').update(as).digest('hex');
      const folder = path.join(repo.folder, '.git/lfs/objects', oid.slice(0, 2), oid.slice(2, 4));
      mkdirSync(folder, { recursive: true });
      writeFileSync(path.join(folder, oid), content);
    };
    repo.write('absent.stl', pointer('absent'));
    repo.write('forged.stl', pointer('forged'));
    repo.write('other-size.stl', pointer('other'));
    repo.write('present.stl', pointer('present'));
    store('present', 'present');
    store('FORGED', 'forged');
    store('longer than named', 'other');
    repo.commit('pointers');
    const result = await problems(repo.folder);
    expect(result.problems).toEqual({
      'absent.stl': 'lfs-pointer',
      'forged.stl': null,
      'other-size.stl': 'lfs-damaged',
      'present.stl': null,
    });
    expect(result.opened).toEqual(['lfs-pointer', 'lfs-damaged', 'lfs-damaged', 7]);
  });

  test('a tree of trees of trees, endless by a few objects, is given up', async () => {
    const repo = temporaryRepository();
    const blob = gitWith(repo.folder, 'x', 'hash-object', '-w', '--stdin');
    let tree = gitWith(
      repo.folder,
      Array.from({ length: 200 }, (_, i) => `100644 blob ${blob}\t${i}.stl\n`).join(''),
      'mktree',
    );
    for (let level = 0; level < 6; level++)
      tree = gitWith(
        repo.folder,
        Array.from({ length: 40 }, (_, i) => `040000 tree ${tree}\td${i}\n`).join(''),
        'mktree',
      );
    await expect(withSnapshot(repo.folder, tree, () => 0)).rejects.toMatchObject({ code: 'tree-too-large' });
  });
});

describe('what cannot be found', () => {
  test('says what is meant instead', async () => {
    const repo = cuffRepository();
    const failing = (spec: string) => withSnapshot(repo.folder, spec, () => 0);
    await expect(failing('rev-B')).rejects.toMatchObject({
      code: 'revision-unknown',
      remedy: expect.stringContaining("'rev-A'") as string,
    });
    await expect(failing('main:parts/shel.stl')).rejects.toMatchObject({
      code: 'path-not-found',
      remedy: expect.stringContaining("'parts/shell.stl'") as string,
    });
    await expect(failing('main:buckle.3mf/inner.stl')).rejects.toMatchObject({ code: 'path-not-found' });
    const nowhere = temporaryFolder();
    await expect(openRepository(nowhere)).rejects.toMatchObject({
      code: 'repository-not-found',
      place: { file: nowhere },
    });
    await expect(openRepository(path.join(nowhere, 'gone'))).rejects.toMatchObject({
      code: 'repository-not-found',
    });
    const empty = temporaryRepository();
    await expect(withSnapshot(empty.folder, 'HEAD', () => 0)).rejects.toMatchObject({
      code: 'revision-unknown',
    });
    renameSync(path.join(repo.folder, '.git/HEAD'), path.join(repo.folder, '.git/gone'));
    await expect(openRepository(repo.folder)).rejects.toMatchObject({ code: 'repository-not-found' });
  });
});
