import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { boxFile, cuffRepository } from '../../packages/registry/src/testing/cuff-repository.ts';
import {
  gitIn,
  gitWith,
  identity,
  removeTemporaryFolders,
  temporaryFolder,
  type TemporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { objections } from '../support/schemas.ts';
import { runCli } from '../support/run-cli.ts';

beforeAll(identity);
beforeEach(() => (process.env['KINPRINT_CACHE'] = temporaryFolder()));
afterAll(removeTemporaryFolders);

interface Checked {
  readonly variants: number;
  readonly findings: readonly {
    code: string;
    severity: string;
    text: string;
    remedy: string;
    file: string;
  }[];
}

async function check(root: string, ...more: string[]) {
  const { code, out, err } = await runCli(['check', '--registry', root, '--json', ...more]);
  const report = JSON.parse(out) as Checked;
  expect(objections('check', report)).toEqual([]);
  return { code, report, err };
}

const ofCode = (report: Checked, code: string) => report.findings.filter(finding => finding.code === code);

/** Letter A on main, a change recorded as B, and a branch beside with work of its own. */
async function recordedTwice(): Promise<TemporaryRepository> {
  const repo = cuffRepository();
  const record = async () => {
    const { code, err } = await runCli(['record', 'cuff/left', '--registry', repo.folder]);
    expect(err).toBe('');
    expect(code).toBe(0);
  };
  repo.commit('start');
  await record();
  repo.git('switch', '-q', '-c', 'side');
  const file = 'devices/cuff/left/variant.yaml';
  repo.write(file, readFileSync(path.join(repo.folder, file), 'utf8').replace('small', 'tiny'));
  repo.commit('aside');
  repo.git('switch', '-q', 'main');
  repo.write('devices/cuff/left/parts/shell.stl', boxFile(41, 30, 20));
  await record();
  return repo;
}

const loose = (repo: TemporaryRepository, id: string) =>
  path.join(repo.folder, '.git/objects', id.slice(0, 2), id.slice(2));

/** What must work whatever is wrong with some branch. */
async function everythingElseWorks(root: string, told: RegExp): Promise<void> {
  const { code, report } = await check(root);
  expect(code).toBe(0);
  expect(report.variants).toBe(1);
  const gaps = ofCode(report, 'history-unread');
  for (const gap of gaps)
    expect(gap).toMatchObject({ code: 'history-unread', severity: 'warning', file: 'registry.yaml' });
  expect(gaps.map(({ text }) => text).join('\n')).toMatch(told);
  for (const args of [
    ['show', 'cuff/left@A'],
    ['show', 'cuff/left'],
    ['lineage'],
    ['kin', 'cuff/left'],
    ['credits', 'cuff/left'],
  ]) {
    const outcome = await runCli([...args, '--registry', root]);
    expect(`${args.join(' ')}: ${outcome.code}`).toBe(`${args.join(' ')}: 0`);
    if (args[1] === 'cuff/left@A' || args[0] === 'kin') expect(outcome.err).toMatch(told);
  }
}

describe('a registry in whose history something is wrong', () => {
  it('goes on without a folder of a branch that is gone', async () => {
    const repo = await recordedTwice();
    rmSync(loose(repo, repo.git('rev-parse', 'side:devices/cuff/left')));
    await everythingElseWorks(repo.folder, /refs\/heads\/side.*one folder is\s+missing/s);
  }, 60_000);

  it('goes on without references that name nothing', async () => {
    const repo = await recordedTwice();
    writeFileSync(path.join(repo.folder, '.git/refs/heads/dead'), '1'.repeat(40));
    writeFileSync(path.join(repo.folder, '.git/refs/tags/empty'), '');
    await everythingElseWorks(repo.folder, /refs\/heads\/dead names the object 1{40}, which is missing/);
    const { report } = await check(repo.folder);
    expect(ofCode(report, 'history-unread').map(({ text }) => text)).toContain(
      'refs/tags/empty is broken: it names no object at all.',
    );
  }, 60_000);

  it('goes on in a clone without contents, and names what is not here', async () => {
    const repo = await recordedTwice();
    repo.git('config', 'uploadpack.allowFilter', 'true');
    for (const filter of ['blob:none', 'tree:0']) {
      const partial = path.join(temporaryFolder(), 'partial');
      gitIn('/', 'clone', '-q', `--filter=${filter}`, `file://${repo.folder}`, partial);
      process.env['KINPRINT_CACHE'] = temporaryFolder(); // that of another machine
      const { code, report } = await check(partial);
      expect(code).toBe(0);
      const gaps = ofCode(report, 'history-unread');
      expect(gaps.length).toBeGreaterThan(0);
      for (const { remedy } of gaps) expect(remedy).toContain('This is a partial clone');
      for (const args of [['show', 'cuff/left'], ['lineage'], ['kin', 'cuff/left']])
        expect((await runCli([...args, '--registry', partial])).code).toBe(0);
      const old = await runCli(['show', 'cuff/left@A', '--registry', partial]);
      expect(old.code).toBe(2);
      expect(old.err).toMatch(/partial clone/);
      gitIn(partial, 'fetch', '-q', '--refetch', '--no-filter');
      expect(ofCode((await check(partial)).report, 'history-unread')).toEqual([]);
      expect((await runCli(['show', 'cuff/left@A', '--registry', partial])).code).toBe(0);
    }
  }, 90_000);

  it('goes on in a shallow clone, where nothing is amiss', async () => {
    const repo = await recordedTwice();
    const shallow = path.join(temporaryFolder(), 'shallow');
    gitIn('/', 'clone', '-q', '--depth', '1', `file://${repo.folder}`, shallow);
    const { code, report } = await check(shallow);
    expect(code).toBe(0);
    expect(ofCode(report, 'history-unread')).toEqual([]);
    expect((await runCli(['show', 'cuff/left@B', '--registry', shallow])).code).toBe(0);
    const old = await runCli(['show', 'cuff/left@A', '--registry', shallow]);
    expect([old.code, /shallow clone/.test(old.err)]).toEqual([2, true]);
  }, 60_000);

  it('checks the working copy when even the branch that is checked out leads nowhere; record says so', async () => {
    const repo = await recordedTwice();
    rmSync(loose(repo, repo.git('rev-parse', 'main')));
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(42, 30, 20));
    const { code, report } = await check(repo.folder);
    expect([code, report.variants]).toEqual([0, 1]);
    expect(ofCode(report, 'history-unread')[0]?.text).toMatch(/^refs\/heads\/main names the object/);
    const { code: refused, err } = await runCli(['record', 'cuff/left', '--registry', repo.folder]);
    expect(refused).toBe(2);
    expect(err).toContain('refs/heads/main names a commit that is not in this repository');
  }, 60_000);

  it('names folders of a commit that are nonsense, gone, or no folders, and ends with a finding', async () => {
    const repo = await recordedTwice();
    const write = (bytes: Uint8Array) =>
      gitWith(repo.folder, bytes, 'hash-object', '-t', 'tree', '-w', '--literally', '--stdin');
    const blob = repo.git('rev-parse', 'main:registry.yaml');
    const commitOf = (mode: string, type: string, id: string) => {
      const tree = gitWith(
        repo.folder,
        `100644 blob ${blob}\tregistry.yaml\n${mode} ${type} ${id}\tdevices\n`,
        'mktree',
        '--missing',
      );
      return repo.git('commit-tree', '-m', 'x', tree);
    };
    const nonsense = write(Buffer.from('100644 nonsense', 'latin1'));
    const twice = Buffer.concat([
      Buffer.from('40000 a\0'),
      Buffer.from(blob, 'hex'),
      Buffer.from('40000 a\0'),
      Buffer.from(blob, 'hex'),
    ]);
    for (const [commit, code] of [
      [commitOf('040000', 'tree', nonsense), 'folder-damaged'],
      [commitOf('040000', 'tree', write(twice)), 'folder-damaged'],
      [commitOf('040000', 'tree', '1'.repeat(40)), 'folder-missing'],
      [commitOf('100644', 'blob', blob), 'folder-expected'],
      [commitOf('120000', 'blob', blob), 'file-not-regular'],
    ] as const) {
      const { code: exit, report } = await check(repo.folder, '--at', commit);
      expect([exit, report.variants]).toEqual([1, 0]);
      expect(ofCode(report, code)).toMatchObject([{ severity: 'error' }]);
    }
    const bad = repo.git('commit-tree', '-m', 'x', nonsense);
    const { code, report } = await check(repo.folder, '--at', bad);
    expect(code).toBe(1);
    expect(ofCode(report, 'folder-damaged')).toMatchObject([{ severity: 'error' }]);
    // git, too, calls it damaged.
    expect(() => execFileSync('git', ['-C', repo.folder, 'ls-tree', '-r', bad], { stdio: 'pipe' })).toThrow();
  }, 60_000);
});
