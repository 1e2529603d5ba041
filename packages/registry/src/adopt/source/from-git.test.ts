import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { openRepository } from '../../git/repository.ts';
import { readAndClose } from '../../snapshot/read-and-close.ts';
import {
  gitIn,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../../testing/temporary-repository.ts';
import { parseCommit } from './commit-object.ts';
import { sourceFromFolder } from './from-folder.ts';
import { sourceFromGit, type GitSourceOptions } from './from-git.ts';

afterAll(removeTemporaryFolders);

async function states(folder: string, options: GitSourceOptions = {}) {
  const source = await sourceFromGit(await openRepository(folder), options);
  await source.close();
  return source;
}

const list = (source: Awaited<ReturnType<typeof states>>): string[][] =>
  source.states.map(state => state.files.map(file => `${file.kind} ${file.path}`));

describe('a history as states', () => {
  test('first parents, oldest first, where files of a kind that is taken differ', async () => {
    const repository = temporaryRepository();
    repository.write('notes.txt', 'nothing yet');
    repository.commit('before the first file');
    repository.write('parts/a.stl', 'a');
    repository.write('README.md', 'Read');
    repository.commit('first');
    repository.write('notes.txt', 'changed');
    repository.commit('no state');
    repository.git('checkout', '-q', '-b', 'side');
    repository.write('parts/b.scad', 'b');
    repository.commit('on the side\n\nCo-authored-by: Ada Two <ada@example.org>');
    repository.write('parts/b.scad', 'bb');
    repository.commit('on the side again');
    repository.git('checkout', '-q', 'main');
    repository.git('merge', '-q', '--no-ff', '-m', 'merged', 'side');
    const source = await states(repository.folder);
    expect(list(source)).toEqual([
      ['readme README.md', 'mesh parts/a.stl'],
      ['readme README.md', 'mesh parts/a.stl', 'model parts/b.scad'],
    ]);
    expect(source.states.map(state => state.commit?.subject)).toEqual(['first', 'merged']);
    // The same line as git itself gives.
    const line = repository.git('log', '--first-parent', '--format=%H', '--reverse').split('\n');
    expect(source.states.map(state => state.commit?.id)).toEqual([line[1], line[3]]);
    expect(source.otherFiles).toBe(1);
    expect(source.notes).toEqual([]);
    // Who made what was merged is not forgotten.
    expect(source.states[1].commit?.others.map(person => person.name)).toContain('Ada Two');
  });

  test('one folder of a repository, another commit, no history', async () => {
    const repository = temporaryRepository();
    repository.write('x/a.stl', '1');
    repository.write('y/a.stl', '1');
    const first = repository.commit('first');
    repository.write('y/a.stl', '2');
    repository.commit('second');
    repository.write('x/a.stl', '2');
    repository.commit('third');
    expect(
      (await states(repository.folder, { prefix: 'x' })).states.map(state => state.commit?.subject),
    ).toEqual(['first', 'third']);
    expect((await states(repository.folder, { at: first })).states).toHaveLength(1);
    const now = await states(repository.folder, { noHistory: true });
    expect(now.states.map(state => state.commit?.subject)).toEqual(['third']);
    expect(list(await states(repository.folder, { skip: name => name === 'y' })).at(-1)).toEqual([
      'mesh x/a.stl',
    ]);
    await expect(states(repository.folder, { prefix: 'z' })).rejects.toMatchObject({
      code: 'path-not-found',
    });
  });

  test('a shallow clone says where its history is cut', async () => {
    const repository = temporaryRepository();
    for (const content of ['1', '2', '3']) {
      repository.write('a.stl', content);
      repository.commit(content);
    }
    const clone = temporaryFolder();
    gitIn(clone, 'clone', '-q', '--depth', '2', `file://${repository.folder}`, 'clone');
    const source = await states(path.join(clone, 'clone'));
    expect(source.states.map(state => state.commit?.subject)).toEqual(['2', '3']);
    expect(source.notes).toMatchObject([{ code: 'history-cut' }]);
    expect(source.notes[0].text).toContain('shallow');
  });

  test('a folder as it lies', () => {
    const repository = temporaryRepository();
    repository.write('a.stl', '1');
    repository.write('.hidden.stl', '1');
    repository.write('picture.png', '1');
    writeFileSync(path.join(repository.folder, 'LICENSE'), 'text');
    const source = sourceFromFolder(repository.folder);
    expect(list(source)).toEqual([['license LICENSE', 'mesh a.stl']]);
    expect(source.otherFiles).toBe(1);
    expect(source.states[0].commit).toBeNull();
  });
});

describe('commit objects', () => {
  test('date where the author was, other authors, decoded texts', async () => {
    const repository = temporaryRepository();
    const tree = repository.git('write-tree');
    const raw = Buffer.from(
      `tree ${tree}\nauthor J\xf6rn Sample <joern@example.org> 1706914800 +0930\n` +
        'committer Robin Sample <robin@example.org> 1800000000 +0000\nencoding ISO-8859-1\n\nF\xfcr\tKinder\n\nText\n\n' +
        'Co-authored-by: Ada Two <ada@example.org>\n',
      'latin1',
    );
    const file = path.join(temporaryFolder(), 'commit');
    writeFileSync(file, raw);
    const id = repository.git('hash-object', '-t', 'commit', '-w', file);
    const opened = await openRepository(repository.folder);
    const object = await opened.objects.read(id);
    if (object.state !== 'found') throw new Error('not found');
    expect(parseCommit(id, readAndClose(object.content))).toEqual({
      id,
      tree,
      parents: [],
      // 2024-02-02T23:00:00Z is the third of February at +09:30.
      date: '2024-02-03',
      author: { name: 'Jörn Sample', contact: 'joern@example.org' },
      others: [{ name: 'Ada Two', contact: 'ada@example.org' }],
      subject: 'Für Kinder',
    });
    await opened.close();
  });

  test('what is no commit, and texts that would disturb a terminal', () => {
    const tree = 'a'.repeat(40);
    const of = (text: string) => parseCommit('x', Buffer.from(text));
    expect(of('')).toBeNull();
    expect(of(`tree ${tree}\n\nno author`)).toBeNull();
    expect(of(`tree ${tree}\nparent nonsense\nauthor A <a> 0 +0000\n\n`)).toBeNull();
    expect(
      of(`tree ${tree}\nauthor \u001b[31mA\u202e <\u0007> 99999999999999 +0000\n\n\u001b[2J`),
    ).toMatchObject({
      author: { name: '[31mA', contact: null },
      date: '9999-12-31',
      subject: '[2J',
    });
    expect(of(`tree ${tree}\nauthor  <> -5 +0000\n\n`)).toMatchObject({
      author: { name: 'unknown' },
      date: '1970-01-01',
    });
  });
});
