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
import { mapped, motion, scaling, together } from '../../tools/corpus/transform.ts';
import {
  box,
  buildMesh,
  cylinder,
  difference,
  moved,
  snapClip,
  strapBuckle,
  union,
} from '../../tools/demo/shapes/index.ts';

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

test('a plate is gone beside twins, copies and changed copies: each file now has one line', async () => {
  const kernel = await loadKernel();
  // An angle with a bore beside its middle: not the same as its mirror image.
  const angle = (bore: number): Mesh => {
    const sides = union(box(60, 20, 4), moved(box(6, 20, 30), 27, 0, 0));
    return buildMesh(kernel, difference(sides, moved(cylinder(bore, 10, 48), -20, 5, -1)));
  };
  const left = angle(3.2);
  const right = mapped(left, scaling(-1, 1, 1));
  const [clip, buckle] = [buildMesh(kernel, snapClip()), buildMesh(kernel, strapBuckle())];
  const plate = together(
    mapped(left, motion([0, 0, 1], 0, [150, 0, 0])),
    mapped(clip, motion([0, 0, 1], 15, [0, 200, 0])),
    mapped(buckle, motion([0, 0, 1], 90, [0, -200, 0])),
  );
  const before = { 'p/left.stl': left, 'p/right.stl': right, 'p/clip.stl': clip, 'p/all.stl': plate };
  const after = {
    'n/one.stl': left,
    'n/left.stl': mapped(angle(3), motion([1, 1, 0], 80, [10, 90, -4])),
    'p/right.stl': right,
    'p/clip.stl': clip,
    'n/two.stl': clip,
    'n/three.stl': buckle,
  };
  const tree = await compareTrees(snapshotFromPath(folderOf(before)), snapshotFromPath(folderOf(after)));
  expect(tree.parts.map(line).sort()).toEqual([
    'p/all.stl → n/three.stl: split, moved',
    'p/clip.stl → n/two.stl: copy, identical',
    'p/clip.stl → p/clip.stl: path, identical',
    'p/left.stl → n/left.stl: copy, reworked',
    'p/left.stl → n/one.stl: content, identical',
    'p/right.stl → p/right.stl: path, identical',
  ]);
  expect(tree.totals).toMatchObject({ parts: 6, moved: 1, reworked: 1, identical: 4, mirrored: 0, added: 0 });
  expect(tree.notes.map(note => note.text)).toEqual([
    'p/all.stl is gone; its bodies stand in n/one.stl, n/three.stl, p/clip.stl.',
  ]);
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
