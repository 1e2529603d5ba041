import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { portableObjects } from '../git/portable-objects.ts';
import { openRepository } from '../git/repository.ts';
import {
  gitIn,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../testing/temporary-repository.ts';
import { commitFiles } from './commit-files.ts';
import { findRegistry, namedRegistry } from './find-registry.ts';
import type { RegistryFiles } from './registry-files.ts';
import { documentsAnd, oneVariant } from './wanted-files.ts';
import { workingFiles } from './working-files.ts';

afterAll(removeTemporaryFolders);

const sha256 = (text: string | Uint8Array): string => createHash('sha256').update(text).digest('hex');

/** Path and SHA-256 of every regular file. */
async function hashes(files: RegistryFiles): Promise<Record<string, string>> {
  const regular = (await files.list()).filter(ref => ref.problem?.code !== 'not-regular');
  return Object.fromEntries(
    await Promise.all(regular.map(async ref => [ref.path, await files.sha256(ref)] as const)),
  );
}

function smallRegistry() {
  const repo = temporaryRepository();
  repo.write('registry.yaml', 'kinprint: registry/1\nname: Lending group\n');
  repo.write('devices/cuff/device.yaml', 'title: Cuff\n');
  repo.write('devices/cuff/left/variant.yaml', 'title: Left\n');
  repo.write('devices/cuff/left/parts/shell.stl', 'solid shell\r\nendsolid\r\n');
  repo.write('devices/cuff/left/parts/größe.stl', 'x'.repeat(3000));
  repo.write('devices/cuff/left/.hidden', 'no');
  repo.write('notes/elsewhere.txt', 'not part of the registry');
  return repo;
}

describe('files of a working copy and of a commit', () => {
  it('list the same files with the same hashes, as sha256sum prints them', async () => {
    const repo = smallRegistry();
    repo.commit('all');
    const working = workingFiles(repo.folder);
    const repository = await openRepository(repo.folder);
    const commit = await commitFiles(repository, 'HEAD');
    const expected = await hashes(working);
    expect(Object.keys(expected)).toEqual([
      'devices/cuff/device.yaml',
      'devices/cuff/left/parts/größe.stl',
      'devices/cuff/left/parts/shell.stl',
      'devices/cuff/left/variant.yaml',
      'registry.yaml',
    ]);
    expect(await hashes(commit)).toEqual(expected);
    for (const [file, hash] of Object.entries(expected))
      expect(execFileSync('sha256sum', [path.join(repo.folder, file)], { encoding: 'utf8' })).toMatch(
        new RegExp(`^${hash} `),
      );
    expect(commit.commit).toBe(repo.git('rev-parse', 'HEAD'));
    const sizes = async (files: RegistryFiles) => (await files.list()).map(ref => ref.size);
    expect(await sizes(commit)).toEqual(await sizes(working));
    await repository.close();
  });

  it('a damaged index is told, since it would tell what is ignored', async () => {
    const repo = smallRegistry();
    repo.commit('all');
    writeFileSync(path.join(repo.folder, '.git/index'), 'not an index');
    await expect(workingFiles(repo.folder).list()).rejects.toMatchObject({
      code: 'index-damaged',
      place: { file: repo.folder },
    });
  });

  it('a folder within a bare repository ignores nothing', async () => {
    const folder = temporaryFolder();
    gitIn(folder, 'init', '-q', '--bare');
    const root = path.join(folder, 'hooks');
    mkdirSync(root, { recursive: true });
    writeFileSync(path.join(root, 'registry.yaml'), 'kinprint: registry/1\nname: Lending group\n');
    expect(Object.keys(await hashes(workingFiles(root)))).toEqual(['registry.yaml']);
  });

  it('are the same through the store that needs no git program', async () => {
    const repo = smallRegistry();
    repo.commit('all');
    repo.git('gc', '-q');
    const repository = await openRepository(repo.folder);
    const portable = { ...repository, objects: portableObjects(path.join(repo.folder, '.git')) };
    const [one, two] = [await commitFiles(repository, 'HEAD'), await commitFiles(portable, 'HEAD')];
    expect(await two.list()).toEqual(await one.list());
    expect(await hashes(two)).toEqual(await hashes(one));
    expect(two.commit).toBe(one.commit);
    await repository.close();
  });

  it('leave out what git ignores, unless it is tracked', async () => {
    const repo = smallRegistry();
    repo.write('.gitignore', '*.tmp\n');
    repo.write('devices/cuff/left/parts/a.tmp', 'ignored');
    repo.write('devices/cuff/left/parts/b.tmp', 'tracked');
    repo.git('add', '-f', 'devices/cuff/left/parts/b.tmp');
    const paths = (await workingFiles(repo.folder).list()).map(ref => ref.path);
    expect(paths).toContain('devices/cuff/left/parts/b.tmp');
    expect(paths).not.toContain('devices/cuff/left/parts/a.tmp');
  });

  it('leave out whole folders that git ignores, in a registry that is a folder of a repository as well', async () => {
    const repo = temporaryRepository();
    repo.write('group/registry.yaml', 'name: x\n');
    repo.write('group/devices/cuff/left/variant.yaml', 'title: Left\n');
    repo.write('group/devices/cuff/left/.gitignore', '/scrap/\nm[1].stl\n');
    repo.write('group/devices/cuff/left/scrap/deep/a.stl', 'ignored');
    repo.write('group/devices/cuff/left/m1.stl', 'ignored');
    repo.write('group/devices/cuff/left/m[1].stl', 'not ignored');
    const paths = (await workingFiles(path.join(repo.folder, 'group')).list()).map(ref => ref.path);
    expect(paths).toEqual(['devices/cuff/left/m[1].stl', 'devices/cuff/left/variant.yaml', 'registry.yaml']);
  });

  it('name links and do not follow them, and do not enter nested repositories', async () => {
    const repo = smallRegistry();
    const outside = temporaryFolder();
    writeFileSync(path.join(outside, 'secret.stl'), 'secret');
    symlinkSync(path.join(outside, 'secret.stl'), path.join(repo.folder, 'devices/cuff/left/parts/link.stl'));
    symlinkSync(outside, path.join(repo.folder, 'devices/cuff/elsewhere'));
    mkdirSync(path.join(repo.folder, 'devices/cuff/nested'));
    gitIn(path.join(repo.folder, 'devices/cuff/nested'), 'init', '-q');
    repo.write('devices/cuff/nested/variant.yaml', 'x');
    const working = workingFiles(repo.folder);
    const links = (await working.list()).filter(ref => ref.problem?.code === 'not-regular');
    expect(links.map(ref => ref.path)).toEqual([
      'devices/cuff/elsewhere',
      'devices/cuff/left/parts/link.stl',
    ]);
    await expect(working.bytes(links[1])).rejects.toMatchObject({ code: 'not-regular' });
    expect((await working.list()).some(ref => ref.path.includes('nested'))).toBe(false);
    expect((await working.notes()).map(note => note.code)).toEqual(['submodule-skipped']);

    repo.git('add', 'devices/cuff/left', 'devices/cuff/elsewhere', 'registry.yaml');
    repo.git('commit', '-q', '-m', 'links');
    const repository = await openRepository(repo.folder);
    const committed = await commitFiles(repository, 'HEAD');
    expect(
      (await committed.list()).filter(ref => ref.problem?.code === 'not-regular').map(ref => ref.path),
    ).toEqual(['devices/cuff/elsewhere', 'devices/cuff/left/parts/link.stl']);
    await repository.close();
  });

  it('count a large-file pointer with the hash it names, fetched or not', async () => {
    const repo = smallRegistry();
    const content = 'the real mesh';
    const oid = sha256(content);
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${oid}\nsize ${content.length}\n`;
    repo.write('devices/cuff/left/parts/big.stl', pointer);
    repo.commit('pointer');
    const repository = await openRepository(repo.folder);
    const big = async (files: RegistryFiles) => {
      const ref = (await files.list()).find(item => item.path.endsWith('big.stl'));
      if (ref === undefined) throw new Error('not listed');
      return { ref, hash: await files.sha256(ref) };
    };
    for (const files of [workingFiles(repo.folder), await commitFiles(repository, 'main')]) {
      const { ref, hash } = await big(files);
      expect(hash).toBe(oid);
      expect(ref).toMatchObject({ size: content.length, problem: { code: 'lfs-pointer' } });
    }
    repo.write(`.git/lfs/objects/${oid.slice(0, 2)}/${oid.slice(2, 4)}/${oid}`, content);
    for (const files of [workingFiles(repo.folder), await commitFiles(repository, 'main')]) {
      const { ref } = await big(files);
      expect(ref.problem).toBeNull();
      expect(Buffer.from(await files.bytes(ref)).toString()).toBe(content);
    }
    await repository.close();
  });

  it('read a registry that is a folder of a larger repository', async () => {
    const repo = temporaryRepository();
    repo.write('group/registry.yaml', 'name: x\n');
    repo.write('group/devices/cuff/left/variant.yaml', 'title: Left\n');
    repo.write('registry.yaml', 'another');
    repo.commit('all');
    const repository = await openRepository(repo.folder);
    const committed = await commitFiles(repository, 'HEAD', 'group');
    expect(await hashes(committed)).toEqual(await hashes(workingFiles(path.join(repo.folder, 'group'))));
    await expect(commitFiles(repository, 'HEAD', 'group/registry.yaml')).rejects.toMatchObject({
      code: 'path-not-found',
    });
    await repository.close();
  });

  it('are read without git as well', async () => {
    const folder = temporaryFolder();
    mkdirSync(path.join(folder, 'devices'));
    writeFileSync(path.join(folder, 'registry.yaml'), 'name: x\n');
    expect(Object.keys(await hashes(workingFiles(folder)))).toEqual(['registry.yaml']);
  });

  it('list one variant alone where only that is wanted', async () => {
    const repo = smallRegistry();
    repo.write('devices/cuff/left-large/variant.yaml', 'another');
    repo.write('devices/cuffs/left/variant.yaml', 'another');
    repo.write('advisories/one.yaml', 'x');
    const paths = (await workingFiles(repo.folder, null, oneVariant('cuff/left')).list()).map(
      ref => ref.path,
    );
    expect(paths).toEqual([
      'devices/cuff/device.yaml',
      'devices/cuff/left/parts/größe.stl',
      'devices/cuff/left/parts/shell.stl',
      'devices/cuff/left/variant.yaml',
      'registry.yaml',
    ]);
  });

  it('list the documents alone where only these are wanted, and everything of some variants', async () => {
    const repo = smallRegistry();
    repo.write('devices/cuff/right/variant.yaml', 'another');
    repo.write('devices/cuff/right/parts/shell.stl', 'x');
    repo.write('devices/cuff/right/parts/variant.yaml', 'x');
    repo.write('advisories/one.yaml', 'x');
    const documents = [
      'advisories/one.yaml',
      'devices/cuff/device.yaml',
      'devices/cuff/left/variant.yaml',
      'devices/cuff/right/variant.yaml',
      'registry.yaml',
    ];
    const listed = async (...whole: string[]) =>
      (await workingFiles(repo.folder, null, documentsAnd(whole)).list()).map(ref => ref.path);
    expect(await listed()).toEqual(documents);
    expect(await listed('cuff/right')).toEqual(
      [...documents, 'devices/cuff/right/parts/shell.stl', 'devices/cuff/right/parts/variant.yaml'].sort(),
    );
  });

  it('read only as many bytes as asked for', async () => {
    const repo = smallRegistry();
    repo.commit('all');
    const repository = await openRepository(repo.folder);
    for (const files of [workingFiles(repo.folder), await commitFiles(repository, 'HEAD')]) {
      const ref = (await files.list()).find(item => item.path === 'registry.yaml')!;
      expect(Buffer.from(await files.bytes(ref, 8)).toString()).toBe('kinprint');
    }
    await repository.close();
  });
});

describe('findRegistry', () => {
  it('finds the nearest folder upwards that holds registry.yaml', () => {
    const repo = smallRegistry();
    expect(findRegistry(path.join(repo.folder, 'devices/cuff/left'))).toBe(repo.folder);
    expect(findRegistry(repo.folder)).toBe(repo.folder);
    expect(namedRegistry(repo.folder)).toBe(repo.folder);
  });

  it('says where it looked and what to do', () => {
    const folder = temporaryFolder();
    expect(() => findRegistry(folder)).toThrow(
      expect.objectContaining({ code: 'registry-not-found', place: { file: folder } }) as Error,
    );
    expect(() => namedRegistry(path.join(smallRegistry().folder, 'devices'))).toThrow(/registry\.yaml/);
  });
});
