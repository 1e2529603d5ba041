import { mkdirSync, renameSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, shell, solid } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in documents and files', () => {
  it('a key that the schema does not know', async () => {
    const registry = one(`${shell}    quantiti: 2\n`);
    await expectOnly(registry, {
      code: 'unknown-key',
      severity: 'error',
      file: manifest,
      line: 'quantiti: 2',
    });
  });

  it('a mesh that is not there', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell);
    await expectOnly(registry, {
      code: 'file-missing',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
      part: 'shell',
    });
  });

  it('a source model that is not there', async () => {
    const registry = one(`${shell}    source: [source/shell.step]\n`);
    await expectOnly(registry, {
      code: 'file-missing',
      severity: 'error',
      file: manifest,
      line: 'source: [source/shell.step]',
    });
  });

  it('a name written in another case', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell, { 'Shell.stl': solid });
    await expectOnly(registry, {
      code: 'file-case',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
      says: /parts\/Shell\.stl/,
    });
  });

  it('a file that no part names', async () => {
    const registry = one(shell);
    registry.write('devices/cuff/left/parts/spare.stl', solid);
    await expectOnly(registry, {
      code: 'file-unlisted',
      severity: 'warning',
      file: 'devices/cuff/left/parts/spare.stl',
      line: null,
    });
  });

  it('a link instead of a file', async () => {
    const registry = one(shell);
    const parts = path.join(registry.folder, 'devices/cuff/left/parts');
    mkdirSync(path.join(registry.folder, 'elsewhere'));
    renameSync(path.join(parts, 'shell.stl'), path.join(registry.folder, 'elsewhere/shell.stl'));
    symlinkSync('../../../../elsewhere/shell.stl', path.join(parts, 'shell.stl'));
    await expectOnly(registry, {
      code: 'file-not-regular',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
    });
  });

  it('a large file that was not fetched', async () => {
    const registry = smallRegistry();
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${'a'.repeat(64)}\nsize 684\n`;
    registry.variant('left', shell, { 'shell.stl': pointer });
    await expectOnly(registry, {
      code: 'file-not-fetched',
      severity: 'warning',
      file: manifest,
      line: 'mesh: parts/shell.stl',
    });
  });

  it('a large file whose local copy is damaged', async () => {
    const registry = smallRegistry();
    const oid = 'a'.repeat(64);
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${oid}\nsize 684\n`;
    registry.variant('left', shell, { 'shell.stl': pointer });
    gitIn(registry.folder, 'init', '-q');
    registry.write(`.git/lfs/objects/aa/aa/${oid}`, 'other bytes');
    await expectOnly(registry, {
      code: 'file-unreadable',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
    });
  });

  it('names that some file systems cannot keep, or keep only one of', async () => {
    const registry = one(shell);
    registry.write('devices/cuff/left/source/aux.step', 'x');
    await expectOnly(registry, {
      code: 'file-name-unsafe',
      severity: 'warning',
      file: 'devices/cuff/left/source/aux.step',
      line: null,
    });
    const clash = one(shell);
    clash.write('devices/cuff/left/source/model.step', 'x');
    clash.write('devices/cuff/left/source/Model.step', 'x');
    await expectOnly(clash, {
      code: 'file-names-clash',
      severity: 'error',
      file: 'devices/cuff/left/source/model.step',
      line: null,
    });
  });

  it.each([
    ['devices/cuff/left/parts-old/COM1', /'COM1' means a device/],
    ['devices/cuff/left/source/nul.tar.gz', /'nul.tar.gz' means a device/],
    ['devices/cuff/left/source/lpt².txt', /'lpt².txt' means a device/],
    ['devices/cuff/left/source/dot.', /'dot.' ends in a dot or blank/],
    ['devices/cuff/left/source/blank /x.step', /'blank ' ends in a dot or blank/],
    ['vetting/cuff/left/A/prn.txt', /'prn.txt' means a device/],
    ['vetting/cuff/con/A/x.txt', /'con' means a device/],
  ])('%s, which not every system can hold', async (file, says) => {
    const registry = one(shell);
    registry.write(file, 'x');
    const checked = await check(registry);
    const found = checked.report.findings.filter(({ code }) => code === 'file-name-unsafe');
    expect(found).toMatchObject([{ severity: 'warning', text: expect.stringMatching(says) as string }]);
    expect(checked.exit).toBe(0);
  });

  it('devices and variants whose folders not every system can hold', async () => {
    const registry = one(shell);
    registry.write('devices/aux/device.yaml', 'kinprint: device/1\ntitle: Aux\npurpose: Holds a spoon.\n');
    registry.variant('nul', '', {});
    const { report } = await check(registry);
    const unsafe = report.findings.filter(({ code }) => code === 'file-name-unsafe');
    expect(unsafe.map(({ file }) => file)).toEqual(['devices/aux', 'devices/cuff/nul']);
  });

  it.each([
    ['vetting/cuff/left/A/Trial.yaml', 'vetting/cuff/left/A/trial.yaml', 'vetting/cuff/left/A/trial.yaml'],
    ['vetting/cuff/left/a/x', 'vetting/cuff/left/A/y', 'vetting/cuff/left/a'],
    [
      'devices/cuff/left/source/caf\u00e9',
      'devices/cuff/left/source/cafe\u0301',
      'devices/cuff/left/source/caf\u00e9',
    ],
    ['devices/cuff/left/Source/x', 'devices/cuff/left/source/x', 'devices/cuff/left/source'],
  ])('%s beside %s', async (a, b, told) => {
    const registry = one(shell);
    registry.write(a, 'x');
    registry.write(b, 'y');
    const { report, exit } = await check(registry);
    const found = report.findings.filter(({ code }) => code === 'file-names-clash');
    expect(found.map(({ file }) => file)).toEqual([told]);
    expect(exit).toBe(1);
  });
});
