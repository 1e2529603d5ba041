import { chmodSync, existsSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import path from 'node:path';
import { adopt } from '@kinprint/registry';
import { afterAll, describe, expect, test } from 'vitest';
import {
  removeTemporaryFolders,
  temporaryFolder,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { emptyRegistry, folderOf, historyOf, stl, wedge } from './things.ts';

afterAll(removeTemporaryFolders);

const today = '2026-01-02';
const shell = wedge(30, 20, 12);

describe("a stranger's files", () => {
  test('names that not every system can hold are not made', async () => {
    const source = historyOf(['First', { 'Nul/aux.stl': shell, 'Nul/AUX.STL': wedge(31, 20, 12) }]);
    const registry = emptyRegistry();
    await expect(
      adopt(source.folder, { registry: registry.folder, device: 'com1', today }),
    ).rejects.toMatchObject({ code: 'name-unsafe' });
    await adopt(source.folder, { registry: registry.folder, device: 'cuff', today });
    const { out } = await runCli(['check', '--registry', registry.folder, '--json']);
    const codes = (JSON.parse(out) as { findings: { code: string }[] }).findings.map(({ code }) => code);
    expect(codes).not.toContain('file-name-unsafe');
    expect(codes).not.toContain('file-names-clash');
    expect(codes).not.toContain('file-missing');
  });

  test('no program that the repository names is run', async () => {
    const source = historyOf([
      'First',
      { 'shell.stl': shell, '.gitattributes': '*.stl filter=evil diff=evil\n' },
    ]);
    const mark = path.join(temporaryFolder(), 'ran');
    const evil = path.join(temporaryFolder(), 'evil.sh');
    writeFileSync(evil, `#!/bin/sh\ntouch '${mark}'\ncat\n`);
    chmodSync(evil, 0o755);
    for (const key of [
      'core.fsmonitor',
      'core.pager',
      'core.sshCommand',
      'gpg.program',
      'filter.evil.clean',
      'filter.evil.smudge',
      'filter.evil.process',
      'diff.evil.textconv',
      'diff.external',
      'credential.helper',
      'core.editor',
    ])
      source.git('config', key, evil);
    source.git('config', 'log.showSignature', 'true');
    source.git('config', 'core.hooksPath', path.dirname(evil));
    source.write('shell.stl', stl(wedge(31, 20, 12)));
    const registry = emptyRegistry();
    const hooks = path.join(registry.folder, '.git/hooks');
    mkdirSync(hooks, { recursive: true });
    for (const hook of [
      'post-commit',
      'pre-commit',
      'reference-transaction',
      'post-checkout',
      'post-index-change',
    ]) {
      writeFileSync(path.join(hooks, hook), `#!/bin/sh\ntouch '${mark}'\n`);
      chmodSync(path.join(hooks, hook), 0o755);
    }
    await adopt(source.folder, { registry: registry.folder, device: 'cuff', today });
    expect(existsSync(mark)).toBe(false);
    expect(existsSync(path.join(registry.folder, 'devices/cuff/standard/parts/shell.stl'))).toBe(true);
    // They would have run.
    source.git('status');
    expect(existsSync(mark)).toBe(true);
    rmSync(mark);
    registry.git('commit', '-q', '--allow-empty', '-m', 'x');
    expect(existsSync(mark)).toBe(true);
  });

  test('links lead nowhere, in a folder and in a history', async () => {
    const secret = path.join(temporaryFolder(), 'secret.stl');
    writeFileSync(secret, stl(shell));
    const folder = folderOf('cuff', { 'clip.stl': wedge(8, 6, 5) });
    symlinkSync(secret, path.join(folder, 'link.stl'));
    symlinkSync(path.dirname(secret), path.join(folder, 'away'));
    const source = historyOf(['First', { 'clip.stl': wedge(8, 6, 5) }]);
    symlinkSync(secret, path.join(source.folder, 'link.stl'));
    source.commit('A link');
    for (const place of [folder, source.folder]) {
      const { plan } = await adopt(place, { registry: null, dryRun: true, today });
      expect(plan.variants[0].letters.at(-1)?.files.map(file => file.from)).toEqual(['clip.stl']);
      expect(plan.notes.some(note => note.code === 'link-skipped')).toBe(true);
    }
  });

  test('names that would leave the folder, disturb a terminal or break a document', async () => {
    const registry = emptyRegistry();
    const source = folderOf('C\u001b[2Ju\nff', {
      'a\u001b[31m\u202eb.stl': shell,
      'con:aux?.stl': wedge(8, 6, 5),
      '# unsettled: "x": [y].stl': wedge(8, 6, 4),
      'README.md': '# T: {[\u0000\n\nKey: value # and - more\n\nWarning: "quoted" \u2028 & *alias\n',
    });
    const { code, out, err } = await runCli(['adopt', source], registry.folder);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(/[\u0000-\u0009\u000b-\u001f\u202e\u2028]/.test(out)).toBe(false);
    const check = await runCli(['check', '--no-cache', '--json'], registry.folder);
    expect(JSON.parse(check.out)).toMatchObject({ counts: { errors: 0 } });
  });

  test('commits with odd names and messages make valid manifests', async () => {
    const source = historyOf(['First', { 'shell.stl': shell }]);
    source.write('shell.stl', stl(wedge(32, 20, 12, 0.2)));
    source.git('add', '-A');
    source.git(
      '-c',
      'user.name=x',
      'commit',
      '-q',
      '--author',
      `${'Ä'.repeat(300)}\u001b[31m: "#{[ <a@example.org>`,
      '-m',
      `- "key": [value] #\u0007${'y'.repeat(400)}`,
    );
    const registry = emptyRegistry();
    const { adopted } = await adopt(source.folder, {
      registry: registry.folder,
      device: 'cuff',
      today,
      contacts: true,
    });
    expect(adopted?.revisions.map(revision => revision.letter)).toEqual(['A', 'B']);
    const check = await runCli(['check', '--no-cache', '--json'], registry.folder);
    expect(JSON.parse(check.out)).toMatchObject({ counts: { errors: 0 } });
  });

  test('large files that are not here are named, those that are come as they are', async () => {
    const pointer = (bytes: Uint8Array): string =>
      `version https://git-lfs.github.com/spec/v1\noid sha256:${createHash('sha256').update(bytes).digest('hex')}\nsize ${bytes.length}\n`;
    const [here, away] = [stl(shell), stl(wedge(8, 6, 5))];
    const source = historyOf(['First', { 'here.stl': pointer(here), 'away.stl': pointer(away) }]);
    const id = createHash('sha256').update(here).digest('hex');
    const store = path.join(source.folder, '.git/lfs/objects', id.slice(0, 2), id.slice(2, 4));
    mkdirSync(store, { recursive: true });
    writeFileSync(path.join(store, id), here);
    const registry = emptyRegistry();
    const { plan } = await adopt(source.folder, { registry: registry.folder, device: 'cuff', today });
    expect(plan.leftOut.map(file => file.path)).toEqual(['away.stl']);
    expect(registry.git('cat-file', '-s', 'HEAD:devices/cuff/standard/parts/here.stl')).toBe(
      String(here.length),
    );

    // A registry that keeps large files by pointer gets one.
    const large = emptyRegistry();
    large.write('.gitattributes', 'devices/** -text\n*.stl filter=lfs\n');
    large.commit('Large files');
    await adopt(source.folder, { registry: large.folder, device: 'cuff', today });
    expect(large.git('show', 'HEAD:devices/cuff/standard/parts/here.stl')).toBe(pointer(here).trimEnd());
    expect(existsSync(path.join(large.folder, '.git/lfs/objects', id.slice(0, 2), id.slice(2, 4), id))).toBe(
      true,
    );
  });
});
