import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import * as esbuild from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStlBinary } from '@kinprint/mesh';
import { readRegistry, recordVariant, standing, workingFiles } from '@kinprint/registry';
import { box, temporaryFolder } from '../support/meshes.ts';

const made: { remove(): void }[] = [];
const folderOf = () => {
  const folder = temporaryFolder();
  made.push(folder);
  return folder.path;
};
afterAll(() => made.forEach(folder => folder.remove()));

const identity = {
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_AUTHOR_NAME: 'Robin Sample',
  GIT_AUTHOR_EMAIL: 'robin@example.org',
  GIT_COMMITTER_NAME: 'Robin Sample',
  GIT_COMMITTER_EMAIL: 'robin@example.org',
};

let child = '';
beforeAll(async () => {
  Object.assign(process.env, identity);
  // Bundled, so that starting it does not take longer than what it does.
  child = path.join(folderOf(), 'record-child.mjs');
  await esbuild.build({
    entryPoints: [fileURLToPath(new URL('record-child.ts', import.meta.url))],
    outfile: child,
    bundle: true,
    format: 'esm',
    platform: 'node',
    conditions: ['source'],
    external: ['manifold-3d', 'manifold-3d/*', 'isomorphic-git'],
    logLevel: 'error',
    banner: {
      js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
    },
  });
});

const git = (root: string, ...args: string[]) =>
  execFileSync('git', ['-C', root, ...args], { encoding: 'utf8' }).trim();

const manifest = `kinprint: variant/1
title: Cuff
license: CC0-1.0
parts:
  - {id: shell, mesh: parts/shell.stl}
`;

function registry(...variants: string[]): string {
  const root = folderOf();
  const put = (file: string, content: string | Uint8Array) => {
    mkdirSync(path.dirname(path.join(root, file)), { recursive: true });
    writeFileSync(path.join(root, file), content);
  };
  put('registry.yaml', 'kinprint: registry/1\nname: Lending group\n');
  put('devices/cuff/device.yaml', 'kinprint: device/1\ntitle: Cuff\npurpose: Holds a spoon.\n');
  variants.forEach((name, k) => {
    put(`devices/cuff/${name}/variant.yaml`, manifest);
    put(`devices/cuff/${name}/parts/shell.stl`, writeStlBinary(box(40 + k, 30, 20)));
  });
  git(root, 'init', '-q', '-b', 'main');
  git(root, 'add', '-A');
  git(root, 'commit', '-q', '-m', 'start');
  return root;
}

/** Runs the child to its end, or kills it after so many milliseconds; gives its last word. */
function run(root: string, variant: string, point = '', killAfter_ms: number | null = null): Promise<string> {
  return new Promise(resolve => {
    const started = spawn(process.execPath, [child, root, `cuff/${variant}`, point], {
      env: { ...process.env, ...identity },
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    let out = '';
    started.stdout.on('data', (piece: Buffer) => {
      const first = out === '';
      out += piece.toString();
      if (first && killAfter_ms !== null) setTimeout(() => started.kill('SIGKILL'), killAfter_ms);
    });
    started.on('close', () => resolve(out.trim().split('\n').at(-1) ?? ''));
  });
}

/** The registry is as before or holds the whole revision; recording again makes it whole. */
async function recovers(root: string, start: string): Promise<'old' | 'new'> {
  expect(git(root, 'fsck', '--strict', '--no-dangling')).toBe('');
  const moved = git(root, 'rev-parse', 'HEAD') !== start;
  if (moved) {
    expect(git(root, 'rev-parse', 'HEAD~1')).toBe(start);
    expect(git(root, 'show', 'HEAD:devices/cuff/left/variant.yaml')).toContain('letter: A');
  }
  // A git that was killed with it may have left its lock, which git itself never takes away.
  for (const lock of ['index.lock', 'refs/heads/main.lock', 'HEAD.lock'])
    execFileSync('rm', ['-f', path.join(root, '.git', lock)]);
  const again = await recordVariant(await readRegistry(workingFiles(root)), 'cuff/left', {
    date: '2026-03-14',
  });
  expect(['recorded', 'completed', 'unchanged']).toContain(again.kind);
  const state = await readRegistry(workingFiles(root));
  expect(await standing(state, 'cuff/left')).toMatchObject({ status: 'recorded', last: { letter: 'A' } });
  expect(state.variants.get('cuff/left')?.document.value?.revisions).toHaveLength(1);
  expect(git(root, 'rev-list', '--count', 'HEAD')).toBe('2');
  expect(git(root, 'status', '--porcelain')).toBe('');
  expect(readdirSync(path.join(root, 'devices/cuff/left')).sort()).toEqual(['parts', 'variant.yaml']);
  return moved ? 'new' : 'old';
}

describe('a recording killed with SIGKILL', () => {
  it.each([
    ['begun', 'old'],
    ['stored', 'old'],
    ['committed', 'old'],
    ['manifest-beside', 'old'],
    ['branch-moved', 'new'],
    ['manifest-written', 'new'],
    ['done', 'new'],
  ])(
    'at "%s" leaves the %s history',
    async (point, history) => {
      const root = registry('left');
      const start = git(root, 'rev-parse', 'HEAD');
      expect(await run(root, 'left', point)).toBe('ready');
      expect(await recovers(root, start)).toBe(history);
    },
    60_000,
  );

  it('at any time leaves the old or the new history', async () => {
    for (let after_ms = 20; after_ms <= 300; after_ms += 35) {
      const root = registry('left');
      const start = git(root, 'rev-parse', 'HEAD');
      await run(root, 'left', '', after_ms);
      await recovers(root, start);
    }
  }, 120_000);
});

describe('several processes at once', () => {
  it('on one variant: one records it, the others are told, nothing is lost', async () => {
    const root = registry('left');
    const words = await Promise.all([1, 2, 3, 4].map(() => run(root, 'left')));
    expect(words.filter(word => word === 'recorded')).toHaveLength(1);
    for (const word of words)
      expect(word).toMatch(/^(recorded|recorded-meanwhile|changed-meanwhile|completed|unchanged)$/);
    expect(git(root, 'rev-list', '--count', 'HEAD')).toBe('2');
    expect(
      readFileSync(path.join(root, 'devices/cuff/left/variant.yaml'), 'utf8').match(/letter:/g),
    ).toHaveLength(1);
    expect(git(root, 'status', '--porcelain')).toBe('');
  }, 60_000);

  it('on different variants: all are recorded', async () => {
    const names = ['a', 'b', 'c', 'd'];
    const root = registry(...names);
    expect(await Promise.all(names.map(name => run(root, name)))).toEqual(names.map(() => 'recorded'));
    expect(git(root, 'rev-list', '--count', 'HEAD')).toBe('5');
    for (const name of names)
      expect(git(root, 'show', `HEAD:devices/cuff/${name}/variant.yaml`)).toContain('letter: A');
    expect(git(root, 'diff', 'HEAD', '--stat')).toBe('');
  }, 60_000);
});
