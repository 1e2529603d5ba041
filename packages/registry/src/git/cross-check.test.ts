import { simpleGit } from 'simple-git';
import { afterAll, expect, test } from 'vitest';
import { removeTemporaryFolders, temporaryRepository } from '../testing/temporary-repository.ts';
import { openRepository } from './repository.ts';
import { parseRevisionSpec } from './revision-spec.ts';
import { snapshotFromGit } from './snapshot-from-git.ts';

afterAll(removeTemporaryFolders);

test('names and listings agree with simple-git', async () => {
  const repo = temporaryRepository();
  for (let i = 0; i < 40; i++) repo.write(`parts/${i % 7}/${i % 3}/part-${i}.stl`, `content ${i % 11}`);
  repo.commit('first');
  repo.git('tag', 'lightweight');
  repo.git('tag', '-a', '-m', 'x', 'annotated');
  repo.git('branch', 'topic/feature');
  repo.write('parts/late.obj', 'late');
  repo.commit('second');
  const other = simpleGit(repo.folder);
  const repository = await openRepository(repo.folder);
  try {
    for (const name of [
      'HEAD',
      'HEAD~1',
      'main',
      'lightweight',
      'annotated',
      'topic/feature',
      'HEAD^{tree}',
      'main@{0}',
    ]) {
      expect(await repository.resolve(name)).toBe(await other.revparse(['--verify', name]));
      const listed = (await other.raw(['ls-tree', '-r', '-l', '-z', name])).split('\0').filter(Boolean);
      const snapshot = await snapshotFromGit(repository, parseRevisionSpec(name)[0]);
      expect(snapshot.entries.map(entry => `${entry.digest} ${entry.size} ${entry.path}`)).toEqual(
        listed
          .map(line => line.replace(/^100644 blob (\w+)\s+(\d+)\t/, 'git-sha1:$1 $2 '))
          .sort((a, b) => (a.split(' ')[2] < b.split(' ')[2] ? -1 : 1)),
      );
    }
  } finally {
    await repository.close();
  }
});
