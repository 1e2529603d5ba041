import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { adopt, type AdoptPoint } from '@kinprint/registry';
import { afterAll, describe, expect, test } from 'vitest';
import {
  gitIn,
  removeTemporaryFolders,
  temporaryFolder,
  type TemporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { emptyRegistry, folderOf, historyOf, wedge } from './things.ts';

afterAll(removeTemporaryFolders);

const today = '2026-01-02';
const points: readonly AdoptPoint[] = ['begun', 'copied', 'stored', 'committed', 'branch-moved', 'appeared'];
const moved = points.indexOf('branch-moved');
const source = () =>
  historyOf(
    ['First', { 'shell.stl': wedge(30, 20, 12) }],
    ['Wider', { 'shell.stl': wedge(32, 20, 12, 0.2) }],
  );

/** Everything a person sees of a registry. */
function stateOf(registry: TemporaryRepository) {
  return {
    head: registry.git('rev-parse', 'HEAD'),
    status: registry.git('status', '--porcelain'),
    files: readdirSync(registry.folder).filter(name => name !== '.git'),
  };
}

describe('an adoption that ends early', () => {
  test.each(points)('thrown out of at %s', async point => {
    const registry = emptyRegistry();
    const before = stateOf(registry);
    const ended = adopt(source().folder, {
      registry: registry.folder,
      device: 'cuff',
      today,
      point(reached) {
        if (reached === point) throw new Error('ended');
      },
    });
    await expect(ended).rejects.toThrow('ended');
    if (points.indexOf(point) < moved) expect(stateOf(registry)).toEqual(before);
    else expect(registry.git('log', '--format=%s')).toContain('revision B');
  });

  test.each(points.filter(point => point !== 'begun' && point !== 'stored'))('killed at %s', async point => {
    const registry = emptyRegistry();
    const before = stateOf(registry);
    const { folder } = source();
    const script = path.join(temporaryFolder(), 'adopt.mts');
    const index = fileURLToPath(new URL('../../packages/registry/src/index.ts', import.meta.url));
    writeFileSync(
      script,
      `import { adopt } from ${JSON.stringify(index)};
       await adopt(${JSON.stringify(folder)}, {
         registry: ${JSON.stringify(registry.folder)}, device: 'cuff', today: '${today}',
         point(reached) { if (reached === '${point}') process.kill(process.pid, 'SIGKILL'); },
       });`,
    );
    const root = fileURLToPath(new URL('../..', import.meta.url));
    const child = spawnSync(process.execPath, ['--import', 'tsx', '--conditions', 'source', script], {
      cwd: root,
      encoding: 'utf8',
    });
    expect({ signal: child.signal, err: child.stderr }).toEqual({ signal: 'SIGKILL', err: '' });

    const after = stateOf(registry);
    const again = () => runCli(['adopt', folder, '--device', 'cuff'], registry.folder);
    if (points.indexOf(point) < moved) {
      expect(after).toEqual(before);
      // What was left beside is swept away by the next one.
      expect(await again()).toMatchObject({ code: 0, err: '' });
    } else {
      // The revisions are in the history; the next one says how to have the folder.
      const { code, err } = await again();
      expect(code).toBe(2);
      const remedy = /git checkout HEAD -- (\S+?),/.exec(err.replaceAll('\n', ' '))?.[1];
      if (point === 'branch-moved') {
        expect(remedy).toBe('devices/cuff');
        registry.git('checkout', 'HEAD', '--', 'devices/cuff');
      } else registry.git('reset', '-q');
    }
    expect(registry.git('status', '--porcelain')).toBe('');
    expect(readdirSync(path.join(registry.folder, '.git')).filter(name => name.includes('kinprint'))).toEqual(
      [],
    );
    expect(existsSync(path.join(registry.folder, 'devices/cuff/standard/parts/shell.stl'))).toBe(true);
  });
});

describe('an adoption beside others', () => {
  test('two at once are both adopted', async () => {
    const registry = emptyRegistry();
    const before = registry.git('rev-parse', 'HEAD');
    const one = folderOf('one', { 'a.stl': wedge(30, 20, 12) });
    const two = folderOf('two', { 'b.stl': wedge(20, 30, 9) });
    await Promise.all([one, two].map(place => adopt(place, { registry: registry.folder, today })));
    expect(registry.git('log', '--format=%s', `${before}..`).split('\n').sort()).toEqual([
      'one/standard: revision A',
      'two/standard: revision A',
    ]);
    expect(registry.git('status', '--porcelain')).toBe('');
  });

  test('one whose device appears meanwhile is given up, and leaves it alone', async () => {
    const registry = emptyRegistry();
    const before = registry.git('rev-parse', 'HEAD');
    const late = adopt(folderOf('one', { 'a.stl': wedge(30, 20, 12) }), {
      registry: registry.folder,
      today,
      point(reached) {
        if (reached === 'committed')
          mkdirSync(path.join(registry.folder, 'devices/one'), { recursive: true });
      },
    });
    await expect(late).rejects.toMatchObject({ code: 'device-exists' });
    expect(registry.git('rev-parse', 'HEAD')).toBe(before);
    expect(readdirSync(path.join(registry.folder, 'devices'))).toEqual(['one']);
  });

  test('what else is changed and staged stays as it is', async () => {
    const registry = emptyRegistry();
    registry.write('staged.txt', 'x');
    registry.git('add', 'staged.txt');
    registry.write('registry.yaml', 'kinprint: registry/1\nname: Renamed\n');
    await adopt(folderOf('one', { 'a.stl': wedge(30, 20, 12) }), { registry: registry.folder, today });
    expect(
      registry
        .git('status', '--porcelain')
        .split('\n')
        .map(line => line.trim()),
    ).toEqual(['M registry.yaml', 'A  staged.txt']);
    expect(registry.git('show', '--name-only', '--format=')).not.toContain('staged.txt');
  });

  test('a registry without a commit, and one below the root of its repository', async () => {
    const young = temporaryFolder();
    gitIn(young, 'init', '-q', '-b', 'main');
    for (const [key, value] of [
      ['user.name', 'Lena Birkholt'],
      ['user.email', 'lena@example.org'],
    ])
      gitIn(young, 'config', key, value);
    const below = path.join(young, 'lending', 'registry');
    mkdirSync(below, { recursive: true });
    writeFileSync(path.join(below, 'registry.yaml'), 'kinprint: registry/1\nname: Young\n');
    const place = folderOf('one', { 'a.stl': wedge(30, 20, 12) });
    await adopt(place, { registry: below, today });
    expect(gitIn(young, 'ls-files').split('\n')).toEqual([
      'lending/registry/devices/one/device.yaml',
      'lending/registry/devices/one/standard/parts/a.stl',
      'lending/registry/devices/one/standard/variant.yaml',
      'lending/registry/registry.yaml',
    ]);
    expect(gitIn(young, 'status', '--porcelain')).toBe('');
  });
});
