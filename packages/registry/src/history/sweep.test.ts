import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { openRepository } from '../git/repository.ts';
import { removeTemporaryFolders, temporaryRepository } from '../testing/temporary-repository.ts';
import { parseSweep, sweepManifests } from './sweep.ts';

afterAll(removeTemporaryFolders);

async function sweep(folder: string) {
  const repository = await openRepository(folder);
  try {
    return (await sweepManifests(repository)).versions;
  } finally {
    await repository.close();
  }
}

describe('sweepManifests', () => {
  it('gives every version of every manifest, parents first, on every branch, under every name', async () => {
    const repo = temporaryRepository();
    const manifest = 'devices/cuff/left/variant.yaml';
    repo.write(manifest, 'one');
    repo.write('devices/cuff/left/parts/shell.stl', 'x');
    const first = repo.commit('first');
    repo.write('devices/cuff/left/parts/shell.stl', 'y');
    repo.commit('no manifest');
    repo.git('switch', '-q', '-c', 'side');
    repo.write(manifest, 'side');
    const side = repo.commit('side');
    repo.git('switch', '-q', 'main');
    repo.git('mv', 'devices/cuff/left', 'devices/cuff/größe');
    const renamed = repo.commit('renamed');
    const found = await sweep(repo.folder);
    const key = (v: { commit: string; path: string; blob: string }) => [v.commit, v.path, v.blob];
    const blob = (spec: string) => repo.git('rev-parse', spec);
    expect(found[0]).toMatchObject({ commit: first, path: manifest });
    expect(new Set(found.map(key).map(String))).toEqual(
      new Set(
        [
          [first, manifest, blob(`${first}:${manifest}`)],
          [side, manifest, blob(`${side}:${manifest}`)],
          [renamed, 'devices/cuff/größe/variant.yaml', blob(`${first}:${manifest}`)],
        ].map(String),
      ),
    );
  });

  it('finds what only a merge commit holds, and what a merge threw away', async () => {
    const repo = temporaryRepository();
    repo.write('devices/cuff/left/variant.yaml', 'base');
    repo.commit('base');
    repo.git('switch', '-q', '-c', 'side');
    repo.write('devices/cuff/left/variant.yaml', 'side');
    const side = repo.commit('side');
    repo.git('switch', '-q', 'main');
    repo.write('devices/cuff/left/variant.yaml', 'main');
    repo.commit('main');
    repo.git('merge', '-q', '-s', 'ours', '-m', 'merged', 'side');
    repo.git('branch', '-q', '-D', 'side');
    repo.write('devices/cuff/left/variant.yaml', 'only in the merge');
    repo.git('add', '-A');
    repo.git('commit', '-q', '--amend', '--no-edit');
    const merge = repo.git('rev-parse', 'HEAD');
    const commits = (await sweep(repo.folder)).map(version => version.commit);
    expect(commits).toContain(side);
    expect(commits.filter(commit => commit === merge)).toHaveLength(1);
  });

  it('leaves out links and deletions, and settings of the repository change nothing', async () => {
    const repo = temporaryRepository();
    repo.write('a/variant.yaml', 'text');
    const first = repo.commit('first');
    repo.git('rm', '-q', 'a/variant.yaml');
    repo.write('target', 'x');
    repo.commit('gone');
    for (const [name, value] of [
      ['diff.noprefix', 'true'],
      ['log.follow', 'true'],
      ['log.date', 'relative'],
      ['format.pretty', 'fuller'],
      ['diff.renames', 'copies'],
      ['core.quotePath', 'true'],
      ['color.ui', 'always'],
      ['log.showRoot', 'false'],
      ['log.diffMerges', 'off'],
      ['core.abbrev', '4'],
    ])
      repo.git('config', name, value);
    expect(await sweep(repo.folder)).toMatchObject([{ commit: first, path: 'a/variant.yaml' }]);
  });

  it('gives nothing for a repository without commits', async () => {
    expect(await sweep(temporaryRepository().folder)).toEqual([]);
  });

  it('ends on any bytes, and gives only what is well formed', () => {
    const token = fc.oneof(
      fc.constantFrom('commit ', ':100644 100644 ', ' M', '\0', '\n', 'a/variant.yaml', '0'.repeat(40)),
      fc.string({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(fc.oneof(fc.uint8Array({ maxLength: 200 }), fc.array(token, { maxLength: 30 })), made => {
        const bytes = made instanceof Uint8Array ? made : Buffer.from(made.join(''), 'latin1');
        for (const version of parseSweep(bytes)) {
          expect(version.commit).toMatch(/^[0-9a-f]{40,64}$/);
          expect(version.blob).toMatch(/^[0-9a-f]{40,64}$/);
        }
      }),
    );
  });
});
