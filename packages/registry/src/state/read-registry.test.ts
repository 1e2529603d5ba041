import { createHash } from 'node:crypto';
import { symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { canonicalJson, readDocument } from '@kinprint/manifest';
import { afterAll, describe, expect, it } from 'vitest';
import { openRepository } from '../git/repository.ts';
import { leftManifest, cuffRepository } from '../testing/cuff-repository.ts';
import { gitWith, removeTemporaryFolders } from '../testing/temporary-repository.ts';
import { commitFiles } from './commit-files.ts';
import { standing, variantDigest } from './digest.ts';
import { readRegistry } from './read-registry.ts';
import { workingFiles } from './working-files.ts';

afterAll(removeTemporaryFolders);

const read = (folder: string) => readRegistry(workingFiles(folder));

describe('readRegistry', () => {
  it('reads the documents and says which files belong to which variant', async () => {
    const repo = cuffRepository();
    repo.write('vetting/cuff/left/A/trial.yaml', 'kinprint: evidence/1\n');
    repo.write('advisories/sharp-edge.yaml', 'kinprint: advisory/1\n');
    const state = await read(repo.folder);
    expect(state.problems).toEqual([]);
    expect(state.registry?.value?.name).toBe('Lending group');
    expect(state.devices.get('cuff')).toMatchObject({ folder: 'devices/cuff', variants: ['cuff/left'] });
    const left = state.variants.get('cuff/left');
    expect(left?.document.value?.title).toBe('Utensil cuff, left, small');
    expect(left?.files.map(ref => ref.path)).toEqual([
      'devices/cuff/left/parts/shell.stl',
      'devices/cuff/left/parts/strap.stl',
    ]);
    expect([...state.advisories.keys()]).toEqual(['sharp-edge']);
    expect(state.vetting.map(ref => ref.path)).toEqual(['vetting/cuff/left/A/trial.yaml']);
  });

  it('reads the same from a commit', async () => {
    const repo = cuffRepository();
    repo.commit('all');
    const here = await read(repo.folder);
    const repository = await openRepository(repo.folder);
    const there = await readRegistry(await commitFiles(repository, 'HEAD'));
    expect(there.variants.get('cuff/left')?.document.value).toEqual(
      here.variants.get('cuff/left')?.document.value,
    );
    expect(await variantDigest(there, 'cuff/left')).toBe(await variantDigest(here, 'cuff/left'));
    await repository.close();
  });

  it('names what is wrong with the layout, and goes on', async () => {
    const repo = cuffRepository();
    repo.write('devices/cuff/Right/variant.yaml', leftManifest);
    repo.write('devices/cuff/draft/parts/shell.stl', 'x');
    repo.write('devices/spoon/big/variant.yaml', Buffer.from([0x74, 0xff, 0x0a]));
    writeFileSync(path.join(repo.folder, 'registry.yaml'), '');
    const state = await read(repo.folder);
    expect(state.problems.map(problem => [problem.code, problem.file])).toEqual([
      ['folder-name', 'devices/cuff/Right'],
      ['manifest-missing', 'devices/cuff/draft'],
      ['not-utf8', 'devices/spoon/big/variant.yaml'],
      ['device-missing', 'devices/spoon/device.yaml'],
    ]);
    expect(state.registry?.value).toBeNull();
    expect([...state.variants.keys()]).toEqual(['cuff/Right', 'cuff/left']);
  });

  it('names links where devices and variants have their folders, and follows none', async () => {
    const repo = cuffRepository();
    symlinkSync('left', path.join(repo.folder, 'devices/cuff/linked'));
    symlinkSync('/etc', path.join(repo.folder, 'devices/elsewhere'));
    const state = await read(repo.folder);
    expect(state.problems.map(problem => [problem.code, problem.file])).toEqual([
      ['file-not-regular', 'devices/cuff/linked'],
      ['file-not-regular', 'devices/elsewhere'],
    ]);
    expect([...state.variants.keys()]).toEqual(['cuff/left']);
    expect([...state.devices.keys()]).toEqual(['cuff']);
  });

  it('says that a manifest is too long rather than reading it', async () => {
    const repo = cuffRepository();
    repo.write('devices/cuff/left/variant.yaml', leftManifest + `# ${'ü'.repeat(600_000)}\n`);
    const left = (await read(repo.folder)).variants.get('cuff/left');
    expect(left?.document.value).toBeNull();
    expect(left?.document.problems[0]?.code).toBe('document-too-large');
  });
});

describe('variantDigest', () => {
  it('is what sha256sum prints, with the canonical manifest', async () => {
    const repo = cuffRepository();
    const digest = await variantDigest(await read(repo.folder), 'cuff/left');
    const value = readDocument('variant', leftManifest, 'variant.yaml').value;
    const sha = (text: string) => createHash('sha256').update(text).digest('hex');
    const sums = gitWith(
      repo.folder,
      '',
      '-c',
      'alias.sums=!cd devices/cuff/left && sha256sum parts/shell.stl parts/strap.stl',
      'sums',
    );
    const listing = `${sums}\n${sha(canonicalJson(value))}  variant.yaml\n`;
    expect(digest).toBe(`sha256:${sha(listing)}`);
  });

  it('does not depend on comments, hidden files or the revisions, and does on every file', async () => {
    const repo = cuffRepository();
    const before = await variantDigest(await read(repo.folder), 'cuff/left');
    repo.write(
      'devices/cuff/left/variant.yaml',
      `${leftManifest}# more\nrevisions:\n  - {letter: A, digest: '${before}', date: 2026-01-02}\n`,
    );
    repo.write('devices/cuff/left/.note', 'x');
    const state = await read(repo.folder);
    expect(await variantDigest(state, 'cuff/left')).toBe(before);
    expect(await standing(state, 'cuff/left')).toMatchObject({ status: 'recorded', last: { letter: 'A' } });
    repo.write('devices/cuff/left/source/shell.step', 'x');
    const changed = await read(repo.folder);
    expect(await standing(changed, 'cuff/left')).toMatchObject({ status: 'changed', last: { letter: 'A' } });
  });

  it('is unknown, with a reason, where a name cannot be listed', async () => {
    const repo = cuffRepository();
    repo.write('devices/cuff/left/parts/a\\b.stl', 'x');
    expect(await standing(await read(repo.folder), 'cuff/left')).toMatchObject({
      status: 'unknown',
      digest: null,
      reason: expect.stringContaining('a\\\\b.stl') as string,
    });
  });
});
