import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import * as esbuild from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  removeTemporaryFolders,
  temporaryFolder,
  temporaryRepository,
} from '../testing/temporary-repository.ts';
import { makeOwnFolder, removeAbandonedFolders } from './own-folder.ts';
import { programObjects } from './program-objects.ts';

afterAll(removeTemporaryFolders);

let script = '';
beforeAll(async () => {
  script = path.join(temporaryFolder(), 'child.mjs');
  await esbuild.build({
    stdin: {
      contents:
        "import { makeOwnFolder } from './own-folder.ts'; makeOwnFolder('sha1'); console.log('ready'); setInterval(() => {}, 1e6);",
      resolveDir: import.meta.dirname,
      loader: 'ts',
    },
    outfile: script,
    bundle: true,
    format: 'esm',
    platform: 'node',
  });
});

/** Starts a process that has such a folder, and ends it by a signal; gives what is left, and what ended it. */
async function endedBy(
  signal: NodeJS.Signals,
): Promise<{ left: string[]; by: NodeJS.Signals | null; in: string }> {
  const folder = temporaryFolder();
  const child = spawn(process.execPath, [script], { env: { ...process.env, TMPDIR: folder } });
  await new Promise(resolve => child.stdout.once('data', resolve));
  expect(readdirSync(folder)).toHaveLength(1);
  child.kill(signal);
  const by = await new Promise<NodeJS.Signals | null>(resolve =>
    child.on('exit', (_, name) => resolve(name)),
  );
  return { left: readdirSync(folder), by, in: folder };
}

describe('our git folder', () => {
  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)('goes with a process that %s ends', async signal => {
    expect(await endedBy(signal)).toMatchObject({ left: [], by: signal });
  });

  it('stays behind when a process is killed outright, until another finds it old enough', async () => {
    const killed = await endedBy('SIGKILL');
    expect(killed.left).toHaveLength(1);
    removeAbandonedFolders(killed.in, Date.now());
    expect(readdirSync(killed.in)).toEqual(killed.left);
    removeAbandonedFolders(killed.in, Date.now() + 2 * 3_600_000);
    expect(readdirSync(killed.in)).toEqual([]);
  });

  it('is gone as soon as git has answered, and nobody listens to signals any more', async () => {
    const repo = temporaryRepository();
    repo.write('a', 'text');
    const commit = repo.commit('one');
    const usual = process.env['TMPDIR'];
    const folder = temporaryFolder();
    process.env['TMPDIR'] = folder;
    const before = process.listenerCount('SIGINT');
    try {
      const own = makeOwnFolder('sha1');
      expect(process.listenerCount('SIGINT')).toBe(before + 1);
      own.remove();
      const store = programObjects(path.join(repo.folder, '.git/objects'), 'sha1');
      const object = await store.read(commit);
      expect(object.state).toBe('found');
      expect(readdirSync(folder)).toEqual([]);
      expect(process.listenerCount('SIGINT')).toBe(before);
      // The reader answers on without it.
      expect((await store.read(repo.git('rev-parse', 'HEAD^{tree}'))).state).toBe('found');
      await store.close();
    } finally {
      if (usual === undefined) delete process.env['TMPDIR'];
      else process.env['TMPDIR'] = usual;
    }
  });

  it('is removed only where it is surely ours', () => {
    const folder = temporaryFolder();
    const gone = spawnSync(process.execPath, ['-e', '']).pid;
    const old = (name: string): string => {
      utimesSync(path.join(folder, name), new Date(0), new Date(0));
      return name;
    };
    const make = (name: string, ...files: string[]): string => {
      mkdirSync(path.join(folder, name));
      for (const file of files) writeFileSync(path.join(folder, name, file), '');
      return old(name);
    };
    const elsewhere = temporaryFolder();
    writeFileSync(path.join(elsewhere, 'HEAD'), '');
    symlinkSync(elsewhere, path.join(folder, `kinprint-git-${gone}-linked`));
    const kept = [
      `kinprint-git-${gone}-linked`,
      make(`kinprint-git-${process.pid}-abcdef`, 'HEAD'),
      make(`kinprint-git-${gone}-abcde0`, 'HEAD', 'thesis.txt'),
      make(`kinprint-git-${gone}-abcdefg`),
      make(`kinprint-git-${gone}`),
      make(`other-kinprint-git-${gone}-abcdef`),
    ];
    writeFileSync(path.join(folder, `kinprint-git-${gone}-afile0`), '');
    kept.push(old(`kinprint-git-${gone}-afile0`));
    make(`kinprint-git-${gone}-abcdef`, 'HEAD', 'config');
    removeAbandonedFolders(folder);
    expect(readdirSync(folder).sort()).toEqual(kept.sort());
    expect(existsSync(path.join(elsewhere, 'HEAD'))).toBe(true);
    removeAbandonedFolders(path.join(folder, 'nowhere'));
  });
});
