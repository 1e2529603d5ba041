import {
  chmodSync,
  chownSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { boxFile, cuffRepository } from '../../packages/registry/src/testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  temporaryFolder,
  type TemporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { cliProcess, type CliProcess } from '../support/cli-process.ts';
import { runCli } from '../support/run-cli.ts';

let cli: CliProcess;
beforeAll(async () => {
  identity();
  cli = await cliProcess();
});
beforeEach(() => (process.env['KINPRINT_CACHE'] = temporaryFolder()));
afterAll(() => {
  cli.remove();
  removeTemporaryFolders();
});

interface Finding {
  readonly code: string;
  readonly severity: string;
  readonly file: string;
  readonly part: string | null;
}
const findingsOf = (out: string) => (JSON.parse(out) as { findings: Finding[] }).findings;

const shell = 'devices/cuff/left/parts/shell.stl';
const manifest = 'devices/cuff/left/variant.yaml';
const textOf = (repo: TemporaryRepository) => readFileSync(path.join(repo.folder, manifest), 'utf8');
const commits = (repo: TemporaryRepository) =>
  repo.git('-c', 'safe.directory=*', 'rev-list', '--count', 'HEAD');

async function recorded(): Promise<TemporaryRepository> {
  const repo = cuffRepository();
  repo.commit('start');
  const { code, err } = await runCli(['record', 'cuff/left', '--registry', repo.folder]);
  expect([code, err]).toEqual([0, '']);
  return repo;
}

describe('a disk that takes no more', () => {
  it.each([0, 1, 2, 4, 8])(
    'leaves the history and the manifest old or new, files of at most %i kB',
    async kilobytes => {
      const repo = await recorded();
      repo.write(shell, boxFile(41, 30, 20));
      // Grows beyond what fits, the compressed object as well.
      let noise = '';
      for (let k = 0, x = 1; k < 3000; k++)
        noise += String.fromCharCode(33 + ((x = (x * 48271) % 2147483647) % 90));
      repo.write('devices/cuff/left/source/model.txt', noise);
      const [text, count] = [textOf(repo), commits(repo)];
      const { code, err } = await cli.run(['record', 'cuff/left', '--registry', repo.folder], {
        before: `ulimit -f ${kilobytes}`,
      });
      if (code !== 0) {
        expect(code).toBe(2);
        expect(err).toMatch(/system|refused|larger than/);
        expect([textOf(repo), commits(repo)]).toEqual([text, count]);
        expect(repo.git('fsck', '--no-dangling')).toBe('');
      }
      if (kilobytes < 4) expect(code).toBe(2);
      if (kilobytes === 8) expect([code, err]).toEqual([0, '']);
      expect(readdirSync(path.join(repo.folder, 'devices/cuff/left')).sort()).toEqual([
        'parts',
        'source',
        'variant.yaml',
      ]);
      // With room again everything is as if nothing had been.
      if (code !== 0) expect((await runCli(['record', 'cuff/left', '--registry', repo.folder])).code).toBe(0);
      expect(textOf(repo)).toContain('letter: B');
      expect(repo.git('status', '--porcelain')).toBe('');
    },
    60_000,
  );

  it('keeps no check from its findings when the cache cannot grow', async () => {
    const repo = await recorded();
    const { code, out } = await cli.run(['check', '--registry', repo.folder, '--json'], {
      before: 'ulimit -f 1',
    });
    expect(code).toBe(0);
    expect(findingsOf(out)).toEqual([]);
    const again = await runCli(['check', '--registry', repo.folder, '--json']);
    expect([again.code, findingsOf(again.out)]).toEqual([0, []]);
  }, 60_000);
});

describe('a part that is a link', () => {
  const outside = () => {
    const folder = temporaryFolder();
    writeFileSync(path.join(folder, 'secret.stl'), boxFile(1, 2, 3));
    return folder;
  };
  it.each<readonly [string, () => string]>([
    ['to another file of the variant', () => 'strap.stl'],
    ['to a file outside', () => path.join(outside(), 'secret.stl')],
    ['to nothing', () => 'nothing.stl'],
    ['to itself', () => 'shell.stl'],
    ['to a device that never ends', () => '/dev/zero'],
  ])(
    '%s is named and not followed',
    async (_, target) => {
      const repo = cuffRepository();
      repo.git('rm', '-q', '--cached', '--ignore-unmatch', shell);
      rmSync(path.join(repo.folder, shell));
      symlinkSync(target(), path.join(repo.folder, shell));
      repo.commit('linked');
      const { code, out } = await runCli(['check', '--registry', repo.folder, '--json']);
      expect(code).toBe(1);
      expect(findingsOf(out)).toMatchObject([{ code: 'file-not-regular', severity: 'error', part: 'shell' }]);
      expect((await runCli(['record', 'cuff/left', '--registry', repo.folder])).code).toBe(1);
      const shown = await runCli(['show', 'cuff/left', '--registry', repo.folder, '--json']);
      expect(shown.code).toBe(0);
      const { parts } = JSON.parse(shown.out) as {
        parts: { id: string; volume_mm3: number | null; problem: string | null }[];
      };
      expect(parts[0]).toMatchObject({
        volume_mm3: null,
        problem: expect.stringContaining('symbolic link') as string,
      });
      expect(parts[1].volume_mm3).toBeCloseTo(60 * 10 * 2, 6);
      const kin = await runCli(['kin', 'cuff/left', '--registry', repo.folder, '--json']);
      expect(kin.code).toBe(0);
    },
    60_000,
  );

  it('or whose folder is one, is not there', async () => {
    const repo = cuffRepository();
    const away = path.join(temporaryFolder(), 'parts');
    renameSync(path.join(repo.folder, 'devices/cuff/left/parts'), away);
    symlinkSync(away, path.join(repo.folder, 'devices/cuff/left/parts'));
    const { code, out } = await runCli(['check', '--registry', repo.folder, '--json']);
    expect(code).toBe(1);
    expect(
      findingsOf(out)
        .map(({ code: what, file }) => `${what} ${file}`)
        .sort(),
    ).toEqual([
      'file-missing devices/cuff/left/variant.yaml',
      'file-missing devices/cuff/left/variant.yaml',
      'file-not-regular devices/cuff/left/parts',
    ]);
  }, 60_000);
});

describe('files that may not be read or written', () => {
  // Permissions do not bind root: then the command runs as the user that owns nothing else.
  const uid = process.getuid?.() === 0 ? 65_534 : undefined;
  const as = uid === undefined ? {} : { uid };

  /** Hands a registry and its cache over to that user; false where it cannot even start a program from here. */
  async function ready(repo: TemporaryRepository): Promise<boolean> {
    if (uid !== undefined) {
      const all = (readdirSync(repo.folder, { recursive: true }) as string[]).map(name =>
        path.join(repo.folder, name),
      );
      for (const place of [repo.folder, ...all, process.env['KINPRINT_CACHE'] ?? ''])
        chownSync(place, uid, uid);
    }
    return (await cli.run(['show', 'cuff/left', '--registry', repo.folder], as)).code === 0;
  }

  it('are named by check, files and folders', async context => {
    const repo = await recorded();
    mkdirSync(path.join(repo.folder, 'devices/cuff/right'));
    if (!(await ready(repo))) context.skip('the project lies where no other user may read');
    chmodSync(path.join(repo.folder, shell), 0);
    chmodSync(path.join(repo.folder, 'devices/cuff/right'), 0);
    const { code, out } = await cli.run(['check', '--registry', repo.folder, '--json', '--no-cache'], as);
    expect(code).toBe(1);
    const found = findingsOf(out);
    expect(found).toContainEqual(expect.objectContaining({ code: 'folder-unreadable', severity: 'error' }));
    expect(found).toContainEqual(
      expect.objectContaining({ code: 'mesh-unreadable', severity: 'error', part: 'shell' }),
    );
    expect(found).toHaveLength(2);
  }, 60_000);

  it('stop record with what to do, and nothing is lost', async context => {
    const repo = await recorded();
    repo.write(shell, boxFile(43, 30, 20));
    if (!(await ready(repo))) context.skip('the project lies where no other user may read');
    const [text, count] = [textOf(repo), commits(repo)];
    for (const folder of ['devices/cuff/left', '.git/refs/heads']) {
      const place = path.join(repo.folder, folder);
      chmodSync(place, 0o555);
      const { code, err } = await cli.run(['record', 'cuff/left', '--registry', repo.folder], as);
      chmodSync(place, 0o755);
      expect(`${folder}: ${code}`).toBe(`${folder}: 2`);
      expect(err).toMatch(/You may not do this here|git refused: .*permission/i);
      expect([textOf(repo), commits(repo)]).toEqual([text, count]);
    }
    expect((await cli.run(['record', 'cuff/left', '--registry', repo.folder], as)).code).toBe(0);
  }, 60_000);

  it('keep no check from its findings when they are the cache', async context => {
    const repo = await recorded();
    if (!(await ready(repo))) context.skip('the project lies where no other user may read');
    const cache = temporaryFolder();
    chmodSync(cache, 0o555);
    process.env['KINPRINT_CACHE'] = cache;
    const { code, out } = await cli.run(['check', '--registry', repo.folder, '--json'], as);
    expect([code, findingsOf(out)]).toEqual([0, []]);
    expect(existsSync(cache) && readdirSync(cache)).toEqual([]);
  }, 60_000);
});
