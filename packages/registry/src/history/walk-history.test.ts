import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { parseCommitHead, parseTag } from '../git/commit-head.ts';
import { openRepository, type Repository } from '../git/repository.ts';
import { repositoryOf, type MadeCommit } from '../testing/random-history.ts';
import {
  gitIn,
  gitWith,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { gapsOf } from './gaps.ts';
import type { ManifestVersion } from './manifest-versions.ts';
import { sweepManifests } from './sweep.ts';
import { walkHistory } from './walk-history.ts';

afterAll(removeTemporaryFolders);

async function within<T>(folder: string, use: (repository: Repository) => Promise<T>): Promise<T> {
  const repository = await openRepository(folder);
  try {
    return await use(repository);
  } finally {
    await repository.close();
  }
}

const keys = (versions: readonly ManifestVersion[]) =>
  versions.map(({ commit, time, path: file, blob }) => `${commit} ${time} ${file} ${blob}`).sort();

const loose = (repo: TemporaryRepository, id: string) =>
  path.join(repo.folder, '.git/objects', id.slice(0, 2), id.slice(2));

/** main: one → two → three; side: one → aside. */
function forked() {
  const repo = temporaryRepository();
  const file = 'devices/cuff/left/variant.yaml';
  const commits = ['one', 'two', 'three'].map(text => (repo.write(file, text), repo.commit(text)));
  repo.git('switch', '-q', '-c', 'side', commits[0]);
  repo.write(file, 'aside');
  const aside = repo.commit('aside');
  repo.git('switch', '-q', 'main');
  return { repo, file, commits, aside };
}

describe('walkHistory', () => {
  it('finds on any history what git log finds, parents first', async () => {
    const commit: fc.Arbitrary<MadeCommit> = fc.record({
      back: fc.array(fc.integer({ min: 1, max: 4 }), { maxLength: 3 }),
      files: fc.array(
        fc.tuple(
          fc.constantFrom('variant.yaml', 'a/variant.yaml', 'a/b/variant.yaml', 'c/variant.yaml', 'a', 'c/x'),
          fc.option(fc.constantFrom<string>('one', 'two', 'three'), { nil: null }),
        ),
        { maxLength: 3 },
      ),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(commit, { minLength: 1, maxLength: 8 }), async commits => {
        const repo = repositoryOf(commits);
        const [fast, slow] = await within(repo.folder, async repository => [
          await sweepManifests(repository),
          await walkHistory(repository),
        ]);
        expect(keys(slow.versions)).toEqual(keys(fast.versions));
        expect([...fast.unread, ...slow.unread]).toEqual([]);
        const place = new Map(slow.versions.map(({ commit: id }, k) => [id, k]));
        const parents = repo.git('log', '--all', '--format=%H %P').split('\n');
        for (const [id, ...above] of parents.map(line => line.split(' ').filter(Boolean)))
          for (const parent of above)
            expect(place.get(parent) ?? -1).toBeLessThan(place.get(id) ?? Number.MAX_SAFE_INTEGER);
      }),
      { numRuns: 25 },
    );
  }, 120_000);

  it('names a folder that is gone, by its branch, and finds everything else', async () => {
    const { repo, commits, aside } = forked();
    const whole = await within(repo.folder, sweepManifests);
    const tree = repo.git('rev-parse', `${aside}:devices`);
    rmSync(loose(repo, tree));
    const { versions, unread } = await within(repo.folder, sweepManifests);
    expect(keys(versions)).toEqual(keys(whole.versions.filter(({ commit }) => commit !== aside)));
    expect(versions.map(({ commit }) => commit)).toEqual(commits);
    expect(unread).toEqual([{ what: 'folder', state: 'missing', reference: 'refs/heads/side', id: tree }]);
    expect(gapsOf(unread, false)).toMatchObject([
      { text: expect.stringContaining('refs/heads/side') as string },
    ]);
  });

  it('names a commit that is gone or damaged, and reads what is on this side of it', async () => {
    for (const state of ['missing', 'damaged'] as const) {
      const { repo, commits } = forked();
      repo.git('branch', '-q', '-D', 'side');
      const object = loose(repo, commits[1]);
      const bytes = readFileSync(object);
      rmSync(object);
      // Cut short behind its own head, without which git calls an object missing.
      if (state === 'damaged') writeFileSync(object, bytes.subarray(0, bytes.length - 30));
      const { versions, unread } = await within(repo.folder, sweepManifests);
      // What the last one says is known; whether it is what the lost one said is not.
      expect(versions.map(({ commit }) => commit)).toEqual([commits[2]]);
      expect(unread).toEqual([{ what: 'commit', state, reference: 'refs/heads/main', id: commits[1] }]);
    }
  });

  it('names references that lead nowhere, each by itself, and tags of things that are no commits not at all', async () => {
    const { repo, file, commits, aside } = forked();
    repo.git('tag', '-a', '-m', 'x', 'text', `HEAD:${file}`);
    repo.git('tag', '-a', '-m', 'x', 'release', aside);
    repo.git('branch', '-q', '-D', 'side');
    const dead = '1'.repeat(40);
    for (const name of ['dead', 'late']) writeFileSync(path.join(repo.folder, '.git/refs/heads', name), dead);
    writeFileSync(path.join(repo.folder, '.git/refs/heads/broken'), 'no id');
    const { versions, unread } = await within(repo.folder, sweepManifests);
    expect(new Set(versions.map(({ commit }) => commit))).toEqual(new Set([...commits, aside]));
    expect(unread).toEqual([
      { what: 'reference', state: 'broken', reference: 'refs/heads/broken', id: null },
      { what: 'reference', state: 'missing', reference: 'refs/heads/dead', id: dead },
      { what: 'reference', state: 'missing', reference: 'refs/heads/late', id: dead },
    ]);
    expect(gapsOf(unread, false).map(({ remedy }) => remedy)[1]).toContain(
      'git update-ref -d refs/heads/dead',
    );
  });

  it('reads a checked-out commit that no branch names, in any worktree', async () => {
    const { repo, aside } = forked();
    const tree = path.join(temporaryFolder(), 'tree');
    repo.git('worktree', 'add', '-q', '--detach', tree, aside);
    repo.git('branch', '-q', '-D', 'side');
    const [fast, slow] = await within(repo.folder, async repository => [
      await sweepManifests(repository),
      await walkHistory(repository),
    ]);
    expect(fast.versions.map(({ commit }) => commit)).toContain(aside);
    expect(keys(slow.versions)).toEqual(keys(fast.versions));
  });

  it('reads a shallow clone to its end, without calling that a gap', async () => {
    const { repo, commits } = forked();
    const shallow = path.join(temporaryFolder(), 'shallow');
    gitIn('/', 'clone', '-q', '--depth', '2', '--branch', 'main', `file://${repo.folder}`, shallow);
    const [fast, slow] = await within(shallow, async repository => [
      await sweepManifests(repository),
      await walkHistory(repository),
    ]);
    expect(slow.unread).toEqual([]);
    expect(keys(slow.versions)).toEqual(keys(fast.versions));
    expect(slow.versions.map(({ commit }) => commit)).toEqual(commits.slice(1));
  });

  it('names the folders that a clone without trees lacks, fetches nothing, and says how to complete it', async () => {
    const { repo, commits } = forked();
    repo.git('branch', '-q', '-D', 'side');
    repo.git('config', 'uploadpack.allowFilter', 'true');
    const partial = path.join(temporaryFolder(), 'partial');
    gitIn('/', 'clone', '-q', '--filter=tree:0', `file://${repo.folder}`, partial);
    const objects = () =>
      gitIn(partial, 'cat-file', '--batch-all-objects', '--batch-check', '--unordered').split('\n').sort();
    const before = objects();
    const { versions, unread } = await within(partial, sweepManifests);
    expect(versions.map(({ commit }) => commit)).toEqual([commits[2]]); // the one that is checked out
    expect(unread.map(({ what, state }) => `${what} ${state}`)).toEqual(['folder missing', 'folder missing']);
    expect(gapsOf(unread, true)).toMatchObject([
      { remedy: expect.stringContaining('git fetch --refetch --no-filter') as string },
    ]);
    expect(objects()).toEqual(before);
    gitIn(partial, 'fetch', '-q', '--refetch', '--no-filter');
    expect(await within(partial, sweepManifests)).toEqual(await within(repo.folder, sweepManifests));
  });

  it('names trees whose entries are nonsense', async () => {
    const { repo, commits } = forked();
    const tree = gitWith(
      repo.folder,
      Buffer.from('100644 a/b\0short', 'latin1'),
      'hash-object',
      '-t',
      'tree',
      '-w',
      '--literally',
      '--stdin',
    );
    const commit = repo.git('commit-tree', '-p', commits[2], '-m', 'x', tree);
    repo.git('update-ref', 'refs/heads/nonsense', commit);
    const { versions, unread } = await within(repo.folder, sweepManifests);
    expect(versions).toHaveLength(4);
    expect(unread).toEqual([
      { what: 'folder', state: 'damaged', reference: 'refs/heads/nonsense', id: tree },
    ]);
  });

  it('gives up on what never ends, and says so', async () => {
    const repo = temporaryRepository();
    // Folders in folders, two names for each: 2^24 paths from 24 objects.
    let tree = gitWith(
      repo.folder,
      `100644 blob ${gitWith(repo.folder, 'x', 'hash-object', '-w', '--stdin')}\tvariant.yaml\n`,
      'mktree',
    );
    for (let level = 0; level < 24; level++)
      tree = gitWith(repo.folder, `040000 tree ${tree}\ta\n040000 tree ${tree}\tb\n`, 'mktree');
    repo.git('update-ref', 'refs/heads/main', repo.git('commit-tree', '-m', 'x', tree));
    const { unread } = await within(repo.folder, repository => walkHistory(repository, 100_000));
    expect(unread).toEqual([{ what: 'rest', state: 'too-much', reference: null, id: null }]);
  });
});

it('gapsOf names no more than some references one by one', () => {
  const unread = Array.from({ length: 300 }, (_, k) => ({
    what: 'reference' as const,
    state: 'missing' as const,
    reference: `refs/heads/${k}`,
    id: '1'.repeat(40),
  }));
  const gaps = gapsOf(unread, false);
  expect(gaps).toHaveLength(20);
  expect(gaps[19].text).toContain('281 more references');
});

it('commit and tag heads are read from any bytes or refused', () => {
  const id = fc.string({ unit: fc.constantFrom(...'0123456789abcdef'), minLength: 39, maxLength: 41 });
  const line = fc.oneof(
    id.map(hex => `tree ${hex}`),
    id.map(hex => `parent ${hex}`),
    id.map(hex => `object ${hex}`),
    fc.constantFrom('author A <a> 1 +0000', 'committer A <a> 12 +0100', 'committer A', '', 'x'),
  );
  fc.assert(
    fc.property(fc.oneof(fc.uint8Array(), fc.array(line, { maxLength: 6 })), made => {
      const bytes = made instanceof Uint8Array ? made : Buffer.from(made.map(text => `${text}\n`).join(''));
      const head = parseCommitHead(bytes);
      for (const hex of [head?.tree, ...(head?.parents ?? []), parseTag(bytes)])
        if (hex !== null && hex !== undefined) expect(hex).toMatch(/^[0-9a-f]{40,64}$/);
      if (head !== null) expect(Number.isSafeInteger(head.time)).toBe(true);
    }),
  );
});
