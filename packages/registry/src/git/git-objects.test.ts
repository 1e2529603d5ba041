import { randomBytes } from 'node:crypto';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import {
  gitIn,
  gitWith,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../testing/temporary-repository.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { GitObjects } from './objects.ts';
import { portableObjects } from './portable-objects.ts';
import { programObjects } from './program-objects.ts';

afterAll(removeTemporaryFolders);

/** Both ways of reading objects, under the same tests. */
const ways: readonly [string, (gitFolder: string) => GitObjects][] = [
  ['the git program', folder => programObjects(path.join(folder, 'objects'), 'sha1')],
  ['the git program, through files', folder => programObjects(path.join(folder, 'objects'), 'sha1', 10)],
  ['without git', folder => portableObjects(folder)],
];

function repositories() {
  const repo = temporaryRepository();
  const contents = ['', 'x', 'two\nlines\n', randomBytes(200_000)];
  for (let i = 0; i < 30; i++) contents.push(`facet ${i}\n`.repeat(2000 + i));
  const ids = contents.map((content, i) => {
    repo.write(`part-${i}.stl`, content);
    return gitWith(repo.folder, content, 'hash-object', '-w', '--stdin');
  });
  repo.commit('all');
  const packed = path.join(temporaryFolder(), 'packed');
  gitIn('/', 'clone', '-q', '--no-local', '--bare', `file://${repo.folder}`, packed);
  return {
    loose: path.join(repo.folder, '.git'),
    packed,
    ids,
    contents: contents.map(content => Buffer.from(content)),
  };
}

const made = repositories();
const commit = gitIn(made.packed, 'rev-parse', 'HEAD');
const tree = gitIn(made.packed, 'rev-parse', 'HEAD^{tree}');

describe.each(ways)('reading objects with %s', (_, open) => {
  test.each(['loose', 'packed'] as const)('%s objects, all at once', async kind => {
    const store = open(made[kind]);
    try {
      const read = await Promise.all(made.ids.map(id => store.read(id)));
      for (const [i, object] of read.entries()) {
        if (object.state !== 'found') throw new Error(object.state);
        expect(object.type).toBe('blob');
        expect(made.contents[i].equals(readAndClose(object.content))).toBe(true);
      }
      expect(await store.sizes(made.ids)).toEqual(made.contents.map(content => content.length));
      expect(await store.read(commit)).toMatchObject({ state: 'found', type: 'commit' });
      expect(await store.read(tree)).toMatchObject({ state: 'found', type: 'tree' });
    } finally {
      await store.close();
    }
  });

  test('an object that is not there is missing, and those around it are read', async () => {
    const store = open(made.packed);
    const nothing = '0123456789abcdef0123456789abcdef01234567';
    try {
      const objects = await Promise.all([made.ids[1], nothing, made.ids[2]].map(id => store.read(id)));
      expect(objects.map(object => object.state)).toEqual(['found', 'missing', 'found']);
      expect(await store.sizes([made.ids[1], nothing, made.ids[2]])).toEqual([1, 'missing', 10]);
    } finally {
      await store.close();
    }
  });

  test('leaves nothing behind', async () => {
    const usual = process.env['TMPDIR'];
    const folder = temporaryFolder();
    process.env['TMPDIR'] = folder;
    const store = open(made.packed);
    const object = await store.read(made.ids[5]);
    await store.close();
    if (usual === undefined) delete process.env['TMPDIR'];
    else process.env['TMPDIR'] = usual;
    expect(readdirSync(folder)).toEqual([]);
    if (object.state !== 'found') throw new Error(object.state);
    // Content that is open stays readable after the store is closed.
    expect(made.contents[5].equals(readAndClose(object.content))).toBe(true);
    await expect(store.read(made.ids[5])).rejects.toThrow('closed');
  });
});
