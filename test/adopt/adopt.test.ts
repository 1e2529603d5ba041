import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { readDocument } from '@kinprint/manifest';
import { readRegistry, recordVariant, standing, workingFiles } from '@kinprint/registry';
import { afterAll, describe, expect, test } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';
import { emptyRegistry, folderOf, historyOf, mirrored, wedge } from './things.ts';

afterAll(removeTemporaryFolders);

const shell = wedge(30, 20, 12);
const clip = wedge(8, 6, 5, 0.5);

describe('kinprint adopt', () => {
  test('makes a device that check accepts, with its history as revisions', async () => {
    const registry = emptyRegistry();
    const source = historyOf(
      [
        'First parts',
        { 'left/shell.stl': shell, 'right/shell.stl': mirrored(shell), LICENSE: 'MIT License\n' },
      ],
      [
        'Wider',
        {
          'left/shell.stl': wedge(32, 20, 12),
          'right/shell.stl': mirrored(wedge(32, 20, 12)),
          LICENSE: 'MIT License\n',
        },
      ],
    );
    const before = registry.git('rev-parse', 'HEAD');
    const dry = await runCli(
      ['adopt', source.folder, '--device', 'cuff', '--dry-run', '--json'],
      registry.folder,
    );
    expect(dry).toMatchObject({ code: 0, err: '' });
    expect(objections('adopt', JSON.parse(dry.out))).toEqual([]);
    expect(registry.git('rev-parse', 'HEAD')).toBe(before);
    expect(readdirSync(registry.folder).sort()).toEqual(['.git', '.gitattributes', 'registry.yaml']);

    const done = await runCli(['adopt', source.folder, '--device', 'cuff', '--json'], registry.folder);
    expect(done).toMatchObject({ code: 0, err: '' });
    const json = JSON.parse(done.out) as {
      variants: { address: string; revisions: { letter: string; digest: string }[] }[];
    };
    expect(objections('adopt', json)).toEqual([]);
    expect(
      json.variants.map(({ address, revisions }) => [address, revisions.map(revision => revision.letter)]),
    ).toEqual([
      ['cuff/left', ['A', 'B']],
      ['cuff/right', ['A', 'B']],
    ]);
    expect(registry.git('status', '--porcelain')).toBe('');
    expect(registry.git('log', '--format=%s by %an', `${before}..`)).toBe(
      'cuff: revisions left@B, right@B by Lena Birkholt\ncuff: revisions left@A, right@A by Lena Birkholt',
    );
    expect(registry.git('log', '-1', '--format=%b')).toContain(source.git('rev-parse', 'HEAD'));
    // What is in the history is what was there, byte for byte.
    const blob = source.git('rev-parse', 'HEAD~1:right/shell.stl');
    expect(registry.git('rev-parse', 'HEAD~1:devices/cuff/right/parts/shell.stl')).toBe(blob);

    const manifest = readFileSync(path.join(registry.folder, 'devices/cuff/right/variant.yaml'), 'utf8');
    const read = readDocument('variant', manifest, 'variant.yaml');
    expect(read.problems).toEqual([]);
    expect(read.value).toMatchObject({
      license: 'MIT',
      authors: [{ name: 'Robin Sample' }],
      revisions: [
        { letter: 'A', date: '2024-05-01', by: 'Robin Sample' },
        { letter: 'B', digest: json.variants[1].revisions[1].digest },
      ],
    });
    expect(manifest).not.toContain('robin@example.org');
    // What is there now is the last letter, so that recording it again has nothing to do.
    const state = await readRegistry(workingFiles(registry.folder));
    for (const { address } of json.variants) {
      expect(await standing(state, address)).toMatchObject({ status: 'recorded', last: { letter: 'B' } });
      expect(await recordVariant(state, address, { date: '2026-01-02' })).toMatchObject({
        kind: 'unchanged',
      });
    }
    const check = await runCli(['check', '--no-cache', '--json'], registry.folder);
    expect(check.code).toBe(0);
    expect(JSON.parse(check.out)).toMatchObject({ counts: { errors: 0 } });
  });

  test('the text fits 80 columns and says what to settle, most important first', async () => {
    const source = folderOf('Cuff', {
      'README.md': '# Cuff \u001b[31mred\n\nHolds.\n',
      'shell-left.stl': shell,
      [`${'very long name '.repeat(8)}.stl`]: clip,
    });
    const { code, out } = await runCli(['adopt', source, '--dry-run'], emptyRegistry().folder);
    expect(code).toBe(0);
    expect(out.split('\n').filter(line => [...line].length > 80)).toEqual([]);
    expect(out).not.toContain('\u001b');
    expect(out.indexOf('  license  ')).toBeLessThan(out.indexOf('  hand  '));
    expect(out).toContain('Dry run: nothing was written.');
  });

  test('overwrites nothing', async () => {
    const registry = emptyRegistry();
    const source = folderOf('Cuff', { 'shell.stl': shell });
    registry.write('devices/cuff/note.txt', 'mine');
    const here = await runCli(['adopt', source], registry.folder);
    expect(here).toMatchObject({ code: 2, out: '' });
    expect(here.err).toContain("There is a device 'cuff' already.");
    expect(existsSync(path.join(registry.folder, 'devices/cuff/shell.stl'))).toBe(false);
    registry.commit('mine');
    registry.git('rm', '-q', '-r', 'devices');
    expect((await runCli(['adopt', source], registry.folder)).err).toContain('in the last commit');
    expect((await runCli(['adopt', source, '--device', 'Cuff!'], registry.folder)).code).toBe(2);
    expect((await runCli(['adopt', source, '--device', 'cuff-2'], registry.folder)).code).toBe(0);
  });

  test('needs a registry, and says how to make one', async () => {
    const source = folderOf('Cuff', { 'shell.stl': shell });
    const { code, err } = await runCli(['adopt', source], path.dirname(source));
    expect(code).toBe(2);
    expect(err).toContain('kinprint start');
  });

  test('a repository that is to become a registry itself', async () => {
    const repository = historyOf(
      ['First', { 'stl/shell.stl': shell }],
      ['Wider', { 'stl/shell.stl': wedge(32, 20, 12), 'registry.yaml': 'kinprint: registry/1\nname: Own\n' }],
    );
    repository.git('config', 'user.name', 'Lena Birkholt');
    repository.git('config', 'user.email', 'lena@example.org');
    const { code, err } = await runCli(['adopt', '.', '--device', 'cuff'], repository.folder);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(repository.git('ls-files').split('\n')).toEqual([
      'devices/cuff/device.yaml',
      'devices/cuff/standard/parts/shell.stl',
      'devices/cuff/standard/variant.yaml',
      'registry.yaml',
      'stl/shell.stl',
    ]);
    // Again, and what was adopted is not looked at.
    const again = await runCli(['adopt', '.', '--device', 'cuff-2', '--json'], repository.folder);
    expect((JSON.parse(again.out) as { variants: unknown[] }).variants).toHaveLength(1);
    expect(repository.git('status', '--porcelain')).toBe('');
  });
});
