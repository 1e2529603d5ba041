import { chmodSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { readAndClose } from './read-and-close.ts';
import { gitWith, removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { fileSource } from './file-source.ts';
import { snapshotFromPath } from './from-folder.ts';

afterAll(removeTemporaryFolders);

function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = temporaryFolder();
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), content);
  }
  return folder;
}

describe('snapshotFromPath', () => {
  test('lists mesh files below a folder, sorted, without hidden ones and packages', () => {
    const folder = folderWith({
      'b/shell.STL': 'x',
      'a.3mf': 'y',
      'a.txt': 'no',
      '.git/x.stl': 'no',
      'node_modules/x.stl': 'no',
      '.x.stl': 'no',
      'c.ply': 'z',
      'd.obj': '',
      '.stl': 'no',
    });
    const snapshot = snapshotFromPath(folder);
    expect(snapshot.entries.map(entry => [entry.path, entry.size])).toEqual([
      ['a.3mf', 1],
      ['b/shell.STL', 1],
      ['c.ply', 1],
      ['d.obj', 0],
    ]);
    expect(snapshot.notes).toEqual([]);
  });

  test('digests are those of the standard tools', () => {
    const folder = folderWith({ 'a.stl': 'some content' });
    expect(snapshotFromPath(folder).entries[0].digest).toBe(
      `sha256:${createHash('sha256').update('some content').digest('hex')}`,
    );
    const id = gitWith(folder, 'some content', 'hash-object', '--stdin');
    expect(snapshotFromPath(folder, 'git-sha1').entries[0].digest).toBe(`git-sha1:${id}`);
  });

  test('links and pipes are noted, and nothing waits for them', () => {
    const folder = folderWith({ 'real.stl': 'real' });
    const outside = folderWith({ 'secret.stl': 'secret' });
    symlinkSync(path.join(outside, 'secret.stl'), path.join(folder, 'link.stl'));
    symlinkSync(outside, path.join(folder, 'folder-link'));
    symlinkSync(folder, path.join(folder, 'round'));
    execFileSync('mkfifo', [path.join(folder, 'pipe.stl')]);
    const snapshot = snapshotFromPath(folder);
    expect(snapshot.entries.map(entry => entry.path)).toEqual(['real.stl']);
    expect(snapshot.notes.map(note => note.code).sort()).toEqual(['link-skipped', 'special-skipped']);
    expect(() => fileSource(path.join(folder, 'pipe.stl'))).toThrow(
      expect.objectContaining({ code: 'file-not-regular' }),
    );
  });

  test('a file swapped for a link, or a folder for one, after the walk is not followed', async () => {
    const outside = folderWith({ 'a.stl': 'secret' });
    const folder = folderWith({ 'a.stl': 'mine', 'sub/a.stl': 'mine' });
    const snapshot = snapshotFromPath(folder);
    for (const name of ['a.stl', 'sub']) {
      rmSync(path.join(folder, name), { recursive: true });
      symlinkSync(path.join(outside, name === 'sub' ? '' : name), path.join(folder, name));
    }
    await expect(snapshot.entries[0].open()).rejects.toMatchObject({ code: 'file-not-regular' });
    await expect(snapshot.entries[1].open()).rejects.toMatchObject({ code: 'file-outside' });
  });

  test('names that are no UTF-8 keep their bytes', async () => {
    const folder = temporaryFolder();
    writeFileSync(
      Buffer.concat([Buffer.from(`${folder}/st`), Buffer.from([0xfc]), Buffer.from('ck.stl')]),
      'latin',
    );
    const [entry] = snapshotFromPath(folder).entries;
    expect(entry.path).toBe('st\udcfcck.stl');
    expect(entry.place).toBe(null);
    expect(Buffer.from(readAndClose(await entry.open())).toString()).toBe('latin');
  });

  test('one file, whatever its ending; and what is not there', async () => {
    const folder = folderWith({
      'mesh.bin': 'x',
      'pointer.stl': `version https://git-lfs.github.com/spec/v1\noid sha256:${'a'.repeat(64)}\nsize 12\n`,
    });
    const snapshot = snapshotFromPath(path.join(folder, 'mesh.bin'));
    expect([snapshot.kind, snapshot.entries[0].path]).toEqual(['file', 'mesh.bin']);
    const [pointer] = snapshotFromPath(folder).entries;
    expect(pointer.problem).toMatchObject({ code: 'lfs-pointer' });
    await expect(pointer.open()).rejects.toMatchObject({ code: 'lfs-pointer' });
    expect(() => snapshotFromPath(path.join(folder, 'gone'))).toThrow(
      expect.objectContaining({ code: 'file-not-found' }),
    );
    expect(() => fileSource(folder)).toThrow(expect.objectContaining({ code: 'file-not-regular' }));
  });

  test.skipIf(process.getuid?.() === 0)('what may not be read is an entry with a problem, or a note', () => {
    const folder = folderWith({ 'closed.stl': 'x', 'shut/a.stl': 'y' });
    chmodSync(path.join(folder, 'closed.stl'), 0);
    chmodSync(path.join(folder, 'shut'), 0);
    const snapshot = snapshotFromPath(folder);
    chmodSync(path.join(folder, 'shut'), 0o755);
    expect(snapshot.entries[0].problem?.code).toBe('unreadable');
    expect(snapshot.notes[0].code).toBe('folder-unreadable');
  });

  test('a source reads any piece and stops at the end', () => {
    const folder = folderWith({ 'a.stl': '0123456789' });
    const source = fileSource(path.join(folder, 'a.stl'));
    const piece = new Uint8Array(4);
    expect([source.read(8, piece), piece[0], piece[1]]).toEqual([2, 0x38, 0x39]);
    expect(source.read(50, piece)).toBe(0);
    source.close();
    source.close();
  });
});
