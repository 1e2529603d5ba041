import { chmodSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import {
  gitIn,
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../testing/temporary-repository.ts';
import { openRepository } from './repository.ts';
import { parseRevisionSpec } from './revision-spec.ts';
import { snapshotFromGit } from './snapshot-from-git.ts';

afterAll(removeTemporaryFolders);

/**
 * A partial clone whose configuration, hooks and attributes name a program wherever git lets them. The program
 * leaves a file behind when it runs.
 */
function plantedRepository() {
  const source = temporaryRepository();
  source.git('config', 'uploadpack.allowFilter', 'true');
  source.write('parts/shell.stl', 'first');
  source.write('parts/clip.stl', 'clip');
  source.write('.gitattributes', '*.stl filter=planted diff=planted merge=planted\n');
  source.commit('first');
  source.git('tag', '-a', '-m', 'first', 'rev-A');
  source.write('parts/shell.stl', 'second');
  source.commit('second');
  const folder = path.join(temporaryFolder(), 'planted');
  gitIn('/', 'clone', '-q', '--filter=blob:none', `file://${source.folder}`, folder);

  const evidence = temporaryFolder();
  const program = path.join(temporaryFolder(), 'planted.sh');
  writeFileSync(program, `#!/bin/sh\ntouch '${evidence}'/"ran-$$"\nexit 1\n`);
  chmodSync(program, 0o755);
  const gitFolder = path.join(folder, '.git');
  mkdirSync(path.join(gitFolder, 'hooks'), { recursive: true });
  for (const hook of [
    'post-checkout',
    'pre-commit',
    'post-index-change',
    'reference-transaction',
    'pre-auto-gc',
    'fsmonitor-watchman',
    'post-rewrite',
  ])
    writeFileSync(path.join(gitFolder, 'hooks', hook), readFileSync(program), { mode: 0o755 });
  writeFileSync(path.join(gitFolder, 'info/attributes'), '* filter=planted diff=planted\n');
  const included = path.join(gitFolder, 'more-config');
  writeFileSync(included, `[core]\n\tpager = ${program}\n\teditor = ${program}\n`);
  const aliases = ['rev-parse', 'cat-file', 'ls-tree', 'for-each-ref', 'fetch', 'remote-planted'];
  const settings: readonly [string, string][] = [
    ['core.fsmonitor', program],
    ['core.hooksPath', path.join(gitFolder, 'hooks')],
    ['core.sshCommand', program],
    ['core.askPass', program],
    ['core.gitProxy', program],
    ['core.alternateRefsCommand', program],
    ['credential.helper', program],
    ['filter.planted.clean', program],
    ['filter.planted.smudge', program],
    ['filter.planted.process', program],
    ['filter.planted.required', 'true'],
    ['diff.planted.textconv', program],
    ['diff.planted.command', program],
    ['diff.external', program],
    ['merge.planted.driver', program],
    ['gpg.program', program],
    ['gpg.ssh.program', program],
    ['log.showSignature', 'true'],
    ['trailer.planted.command', program],
    ['uploadpack.packObjectsHook', program],
    ['remote.origin.uploadpack', program],
    ['protocol.allow', 'always'],
    ['protocol.ext.allow', 'always'],
    ['remote.origin.url', `ext::${program}`],
    ['remote.origin.promisor', 'true'],
    ['sequence.editor', program],
    ['include.path', included],
    ...aliases.flatMap((name): [string, string][] => [
      [`alias.${name}`, `!${program}`],
      [`pager.${name}`, program],
    ]),
  ];
  for (const [key, value] of settings) gitIn(folder, 'config', key, value);
  return { folder, ran: () => readdirSync(evidence).length };
}

test('nothing that a repository names is run, while plain git calls do run it', async () => {
  const planted = plantedRepository();
  const repository = await openRepository(planted.folder);
  try {
    for (const text of [
      'HEAD',
      'rev-A',
      'HEAD~1',
      'rev-A:parts',
      'main:parts/shell.stl',
      'origin/main',
      'HEAD@{0}',
    ]) {
      const snapshot = await snapshotFromGit(repository, parseRevisionSpec(text)[0]);
      await Promise.allSettled(snapshot.entries.map(entry => entry.open()));
      expect(snapshot.entries.length).toBeGreaterThan(0);
    }
    const before = await snapshotFromGit(repository, parseRevisionSpec('rev-A')[0]);
    expect(before.entries.map(entry => [entry.path, entry.problem?.code ?? null])).toEqual([
      ['parts/clip.stl', null],
      ['parts/shell.stl', 'missing'],
    ]);
    for (const text of ['nothing', 'HEAD:nothing', 'HEAD~7', '0123456789abcdef0123456789abcdef01234567'])
      await expect(
        repository.resolve(text).then(() => snapshotFromGit(repository, parseRevisionSpec(text)[0])),
      ).rejects.toThrow();
  } finally {
    await repository.close();
  }
  expect(planted.ran()).toBe(0);

  // The bait works: a plain call runs it, and so does reading the missing object the plain way.
  try {
    execFileSync('git', ['-C', planted.folder, 'status'], { stdio: 'ignore' });
  } catch {
    // whether the call succeeds is of no matter
  }
  const afterStatus = planted.ran();
  expect(afterStatus).toBeGreaterThan(0);
  try {
    execFileSync('git', ['-C', planted.folder, 'cat-file', 'blob', 'rev-A:parts/shell.stl'], {
      stdio: 'ignore',
    });
  } catch {
    // likewise
  }
  expect(planted.ran()).toBeGreaterThan(afterStatus);
});
