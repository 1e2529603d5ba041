import { execFileSync, spawn } from 'node:child_process';
import { lstatSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { twoStates } from '../review/support.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';

const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const registry = twoStates(
  r => r.variant('left', shell, { 'shell.stl': box(20, 30, 10) }),
  r => r.variant('right', shell, { 'shell.stl': box(21, 30, 10) }),
);
const made: { remove(): void }[] = [];
let folder = '';
beforeEach(() => {
  const one = temporaryFolder();
  made.push(one);
  folder = one.path;
  writeFileSync(path.join(folder, 'a-file'), 'kept');
  mkdirSync(path.join(folder, 'a-folder'));
});
afterAll(() => {
  made.forEach(one => one.remove());
  removeTemporaryFolders();
});

const review = ['review', 'main..change', '--registry', registry.folder];
const prepare = ['prepare', '--registry', registry.folder];
const mesh = path.join(registry.folder, 'devices/cuff/left/parts/shell.stl');
const lineage = ['lineage', '--format', 'svg', '--registry', registry.folder];

describe('outputs are looked at before any work', () => {
  it.each([
    [[...review, '--html', 'r', '--markdown', 'r'], '--html and --markdown name the same place'],
    [[...review, '--sarif', 'r', '--junit', './r'], '--sarif and --junit name the same place'],
    [
      [...review, '--html', 'r-pictures', '--markdown', 'r.md'],
      '--html and the pictures of --markdown name the same place',
    ],
    [[...review, '--html', 'a-folder'], 'There is a folder of this name'],
    [[...review, '--markdown', ''], 'There is a folder of this name'],
    [[...review, '--junit', 'nowhere/r.xml'], 'There is no folder to write it to'],
    [[...review, '--sarif', 'a-file/r'], 'There is no folder to write it to'],
    [[...review, '--markdown', 'a.md'], 'The folder for the pictures cannot be made'],
    [[...prepare, '--output', 'a-folder'], 'There is a folder of this name'],
    [[...prepare, '--output', 'a.md'], 'The folder for the pictures cannot be made'],
    [['picture', mesh, '-o', 'nowhere/p.png'], 'There is no folder to write it to'],
    [['combine', mesh, mesh, mesh, '-o', 'nowhere/p.stl'], 'There is no folder to write it to'],
    [[...lineage, '--output', 'a-folder'], 'There is a folder of this name'],
    [['credits', 'cuff/left', '--registry', registry.folder, '--output', 'a-folder'], 'There is a folder'],
    [['picture', mesh, '-o', 'pipe.png'], 'There is something other than a file'],
  ])('%j', async (args, said) => {
    writeFileSync(path.join(folder, 'a-pictures'), 'in the way');
    execFileSync('mkfifo', [path.join(folder, 'pipe.png')]);
    const before = readdirSync(folder);
    const { code, out, err } = await runCli(args, folder);
    expect([code, out]).toEqual([2, '']);
    expect(err.replace(/\s+/g, ' ')).toContain(said);
    expect(readdirSync(folder)).toEqual(before);
    expect(lstatSync(path.join(folder, 'pipe.png')).isFIFO()).toBe(true);
  });

  it('a file that is there is written anew', async () => {
    const { code, err } = await runCli([...review, '--junit', 'a-file'], folder);
    expect([code, err]).toEqual([0, '']);
    expect(readFileSync(path.join(folder, 'a-file'), 'utf8')).toMatch(/^<\?xml/);
  });
});

describe('a signal in the midst of writing', () => {
  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    '%s ends the program, and nothing is left',
    async signal => {
      const module = pathToFileURL(path.resolve('packages/cli/src/write-output.ts')).href;
      const script = `
      const { streamOutput } = await import(${JSON.stringify(module)});
      await streamOutput(${JSON.stringify(path.join(folder, 'a-file'))}, async write => {
        await write('half');
        console.log('begun');
        await new Promise(done => setTimeout(done, 60_000));
      });`;
      const options = ['--conditions=source', '--import', 'tsx', '--input-type=module', '-e', script];
      const child = spawn(process.execPath, options, { stdio: ['ignore', 'pipe', 'inherit'] });
      await new Promise(begun => child.stdout.once('data', begun));
      expect(readdirSync(folder).filter(name => name.endsWith('.tmp'))).toHaveLength(1);
      child.kill(signal);
      const ended = await new Promise(resolve => child.once('exit', (_, by) => resolve(by)));
      expect(ended).toBe(signal);
      expect(readdirSync(folder)).toEqual(['a-file', 'a-folder']);
    },
  );
});
