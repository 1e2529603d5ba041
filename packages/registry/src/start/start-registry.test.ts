import { existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readHead } from '../git/head.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { gitIn, identity, removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { startRegistry } from './start-registry.ts';

beforeAll(identity);
afterAll(removeTemporaryFolders);

describe('startRegistry', () => {
  it('makes a registry that reads without a problem, in a repository', async () => {
    const folder = path.join(temporaryFolder(), 'new/group');
    const report = await startRegistry(folder, {
      name: "Lending group: 'Löffel' #1",
      maintainer: 'Kim Example',
    });
    expect(report).toMatchObject({ root: folder, kept: [], repository: 'made', notes: [] });
    const state = await readRegistry(workingFiles(folder));
    expect(state.problems).toEqual([]);
    expect(state.registry?.problems).toEqual([]);
    expect(state.registry?.value).toEqual({
      kinprint: 'registry/1',
      name: "Lending group: 'Löffel' #1",
      maintainers: [{ name: 'Kim Example' }],
    });
    expect(readFileSync(path.join(folder, 'registry.yaml'), 'utf8').split('\n')[0]).toBe(
      '# yaml-language-server: $schema=schemas/registry.schema.json',
    );
    // Every schema that another names is there, so that editors can follow.
    for (const file of report.made.filter(name => name.startsWith('schemas/'))) {
      const text = readFileSync(path.join(folder, file), 'utf8');
      for (const [, other] of text.matchAll(/"\$ref": "([^"#]+)#/g))
        expect(existsSync(path.join(folder, 'schemas', other ?? ''))).toBe(true);
    }
    gitIn(folder, 'add', '-A');
    expect(gitIn(folder, 'check-attr', 'text', 'devices/cuff/left/parts/shell.stl')).toMatch(/text: unset$/);
  });

  it('gets a history of its own where the repository around it ignores its folder', async () => {
    const around = temporaryFolder();
    gitIn(around, 'init', '-q');
    writeFileSync(path.join(around, '.gitignore'), '/out/\n');
    const beside = await startRegistry(path.join(around, 'group'), { name: 'Beside' });
    expect(beside.repository).toBe('found');
    const apart = await startRegistry(path.join(around, 'out/group'), { name: 'Apart' });
    expect(apart.repository).toBe('made');
    expect(gitIn(apart.root, 'rev-parse', '--show-prefix')).toBe('');
    expect((await readHead(apart.root)).prefix).toBe('');
    // Without one, nothing is recorded to the history that has nothing to do with it.
    mkdirSync(path.join(around, 'out/bare'));
    writeFileSync(path.join(around, 'out/bare/registry.yaml'), 'kinprint: registry/1\nname: Bare\n');
    await expect(readHead(path.join(around, 'out/bare'))).rejects.toMatchObject({ code: 'registry-ignored' });
  });

  it('overwrites nothing, and adds what is missing', async () => {
    const folder = temporaryFolder();
    gitIn(folder, 'init', '-q');
    writeFileSync(path.join(folder, 'README.md'), 'mine');
    writeFileSync(path.join(folder, '.gitattributes'), '*.stl filter=lfs\n');
    const first = await startRegistry(folder, { name: 'One' });
    expect(first).toMatchObject({ kept: ['.gitattributes', 'README.md'], repository: 'found' });
    expect(first.notes).toEqual([expect.stringContaining('devices/** -text')]);
    expect(readFileSync(path.join(folder, 'README.md'), 'utf8')).toBe('mine');
    const odd = temporaryFolder();
    symlinkSync(path.join(odd, 'nowhere'), path.join(odd, '.gitattributes'));
    expect(await startRegistry(odd, { name: 'Odd' })).toMatchObject({
      kept: ['.gitattributes'],
      notes: [expect.stringContaining('devices/** -text')],
    });
    const second = await startRegistry(folder, { name: 'Two' });
    expect(second.made).toEqual([]);
    expect(readFileSync(path.join(folder, 'registry.yaml'), 'utf8')).toContain('name: One');
  });

  it('refuses a folder within a registry, a file, and a name that is none', async () => {
    const folder = temporaryFolder();
    await startRegistry(folder, { name: 'One' });
    await expect(startRegistry(path.join(folder, 'inner'), { name: 'Two' })).rejects.toMatchObject({
      code: 'registry-inside',
    });
    const file = path.join(temporaryFolder(), 'file');
    writeFileSync(file, 'mine');
    for (const inFile of [file, path.join(file, 'inner')])
      await expect(startRegistry(inFile, { name: 'Two' })).rejects.toMatchObject({ code: 'folder-unusable' });
    await expect(startRegistry(temporaryFolder(), { name: ' ' })).rejects.toMatchObject({
      code: 'registry-name',
    });
  });
});
