import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { PartComparison } from '@kinprint/compare';
import { type Mesh, writeStlBinary } from '@kinprint/mesh';
import {
  compareTrees,
  openRepository,
  parseRevisionSpec,
  snapshotFromGit,
  snapshotFromPath,
} from '@kinprint/registry';
import { loadKernel } from '@kinprint/solid';
import {
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { treeCases } from '../../tools/corpus/index.ts';

afterAll(removeTemporaryFolders);

const all = treeCases(await loadKernel());

function folderOf(files: Readonly<Record<string, Mesh>>): string {
  const folder = temporaryFolder();
  for (const [name, mesh] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), writeStlBinary(mesh));
  }
  return folder;
}

const line = (part: PartComparison): string =>
  `${part.before} → ${part.after}: ${part.pairing}, ${part.verdict}`;

describe('folders of the corpus', () => {
  test.each(all)('$name', async ({ before, after, parts: expected }) => {
    const sides = [snapshotFromPath(folderOf(before)), snapshotFromPath(folderOf(after))] as const;
    const seen: number[] = [];
    const tree = await compareTrees(...sides, {}, { progress: done => seen.push(done) });
    for (const part of expected) {
      const found = tree.parts.find(other => other.before === part.before && other.after === part.after);
      expect(found === undefined ? tree.parts.map(line).join('\n') : '').toBe('');
      if (found === undefined) continue;
      expect(part.pairings, line(found)).toContain(found.pairing);
      expect(part.verdicts, line(found)).toContain(found.verdict);
    }
    expect(tree.parts).toHaveLength(expected.length);
    expect(tree.totals.parts).toBe(expected.length);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(Math.max(sides[0].entries.length, sides[1].entries.length));
  });
});

test('a git state, a folder and another git state compare alike; what cannot be read is a part, not an end', async () => {
  const [first] = all;
  const repo = temporaryRepository();
  const put = (files: Readonly<Record<string, Mesh>>) => {
    for (const [name, mesh] of Object.entries(files)) repo.write(name, writeStlBinary(mesh));
  };
  put(first.before);
  repo.write('broken.stl', 'solid x\n facet normal 0 0 1\n  outer loop\n   vertex 0 0 zero\n');
  repo.commit('before');
  repo.git('rm', '-q', ...Object.keys(first.before));
  put(first.after);
  repo.write('broken.stl', 'solid x\n facet normal 0 0 1\n  outer loop\n   vertex 0 0 nothing\n');
  repo.commit('after');
  const repository = await openRepository(repo.folder);
  try {
    const [from, to] = await Promise.all(
      ['HEAD~1', 'HEAD'].map(text => snapshotFromGit(repository, parseRevisionSpec(text)[0])),
    );
    const working = snapshotFromPath(repo.folder, 'git-sha1');
    const byGit = await compareTrees(from, to);
    const byFolder = await compareTrees(from, working);
    expect(byFolder.parts.map(line)).toEqual(byGit.parts.map(line));
    expect(byGit.parts.map(line).sort()).toEqual(
      [
        'broken.stl → broken.stl: path, unreadable',
        'clip.stl → snap.stl: content, identical',
        'leaf.stl → leaf.stl: path, identical',
        'leaf.stl → spare/leaf.stl: copy, identical',
        'shell.stl → cuff/shell-v2.stl: shape, reworked',
      ].sort(),
    );
    expect(byGit.parts.find(part => part.verdict === 'unreadable')?.problem).toMatchObject({
      side: 'before',
    });
    expect((await compareTrees(to, working)).totals).toMatchObject({ parts: 5, identical: 5 });
  } finally {
    await repository.close();
  }
});
