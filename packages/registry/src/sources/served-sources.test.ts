import { randomBytes } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, renameSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { recordVariant } from '../record/record-variant.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { boxFile, cuffRepository } from '../testing/cuff-repository.ts';
import { gitServer, type GitServer } from '../testing/git-server.ts';
import {
  identity,
  removeTemporaryFolders,
  temporaryFolder,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { openSources, type SourceOptions } from './open-sources.ts';

let friends: TemporaryRepository;
let server: GitServer;
let cache: string;

beforeAll(async () => {
  identity();
  friends = cuffRepository();
  await record();
  const folder = temporaryFolder();
  symlinkSync(friends.folder, path.join(folder, 'friends'));
  server = await gitServer(folder);
});
beforeEach(() => {
  cache = temporaryFolder();
  process.env['GIT_SSL_CAINFO'] = server.certificate;
});
afterEach(() => delete process.env['GIT_SSL_CAINFO']);
afterAll(async () => {
  await server.close();
  removeTemporaryFolders();
});

async function record(): Promise<void> {
  const state = await readRegistry(workingFiles(friends.folder));
  expect((await recordVariant(state, 'cuff/left', { date: '2026-03-14' })).kind).toBe('recorded');
}

/** The letters of the source's variant, as our registry sees them. */
async function letters(
  address: string,
  {
    branch = '',
    fresh = false,
    limits,
  }: { branch?: string; fresh?: boolean; limits?: SourceOptions['limits'] } = {},
): Promise<string[]> {
  const ours = cuffRepository();
  ours.write(
    'registry.yaml',
    `kinprint: registry/1\nname: Ours\nsources:\n  friends: { git: '${address}'${branch} }\n`,
  );
  const sources = openSources(await readRegistry(workingFiles(ours.folder)), {
    cache,
    ...(limits === undefined ? {} : { limits }),
  });
  try {
    const { state } = await sources.open('friends', fresh);
    const revisions = state.variants.get('cuff/left')?.document.value?.revisions ?? [];
    return revisions.map(({ letter }) => letter);
  } finally {
    await sources.close();
  }
}

const copies = () =>
  existsSync(path.join(cache, 'sources')) ? readdirSync(path.join(cache, 'sources')) : [];
const usual = { time_ms: 60_000, bytes: 1024 ** 3 };

/** Every file of the only copy, without what a fetch changes in any case. */
function filesOfCopy(): string[] {
  const [copy, ...more] = copies();
  expect(more).toEqual([]);
  return (readdirSync(path.join(cache, 'sources', copy), { recursive: true }) as string[]).sort();
}

describe('sources by https', () => {
  it('are fetched, and fetched again where asked for', async () => {
    const before = await letters(`${server.address}/git/friends`);
    friends.write('devices/cuff/left/parts/shell.stl', boxFile(41, 31, 20 + before.length));
    await record();
    expect(await letters(`${server.address}/git/friends`)).toEqual(before);
    expect(await letters(`${server.address}/git/friends`, { fresh: true })).toHaveLength(before.length + 1);
    expect(copies()).toHaveLength(1);
  }, 60_000);

  it('are refused where the certificate is none that the user trusts', async () => {
    delete process.env['GIT_SSL_CAINFO'];
    await expect(letters(`${server.address}/git/friends`)).rejects.toMatchObject({
      code: 'source-unreachable',
      message: expect.stringMatching(/certificate/i) as string,
    });
    expect(copies()).toEqual([]);
  }, 60_000);

  it('leave the copy as it was when the branch is gone, the server is down, or the repository is away', async () => {
    const known = await letters(`${server.address}/git/friends`, { branch: ', branch: main' });
    const before = filesOfCopy();
    friends.git('branch', '-q', '-m', 'main', 'elsewhere');
    await expect(
      letters(`${server.address}/git/friends`, { branch: ', branch: main', fresh: true }),
    ).rejects.toMatchObject({
      code: 'source-unreachable',
      message: expect.stringContaining("couldn't find remote ref refs/heads/main") as string,
    });
    friends.git('branch', '-q', '-m', 'elsewhere', 'main');
    renameSync(friends.folder, `${friends.folder}-away`);
    await expect(
      letters(`${server.address}/git/friends`, { branch: ', branch: main', fresh: true }),
    ).rejects.toMatchObject({ code: 'source-unreachable' });
    renameSync(`${friends.folder}-away`, friends.folder);
    expect(filesOfCopy()).toEqual(before);
    expect(await letters(`${server.address}/git/friends`, { branch: ', branch: main' })).toEqual(known);

    const other = await gitServer(temporaryFolder());
    await other.close();
    process.env['GIT_SSL_CAINFO'] = other.certificate;
    await expect(letters(`${other.address}/git/friends`)).rejects.toMatchObject({
      code: 'source-unreachable',
    });
    expect(copies()).toHaveLength(1);
  }, 60_000);

  it('follow a redirection to https, and to nothing else', async () => {
    const moved = encodeURIComponent(`${server.address}/git`);
    expect(await letters(`${server.address}/to/${moved}/friends`)).not.toEqual([]);
    expect(copies()).toHaveLength(1);
    const evidence = temporaryFolder();
    for (const to of [
      `file://${path.dirname(friends.folder)}`,
      'ssh://127.0.0.1',
      'http://127.0.0.1:9',
      'ftp://127.0.0.1:9',
      `ext::touch%20${evidence}/ran%20`,
      path.dirname(friends.folder),
    ]) {
      const address = `${server.address}/to/${encodeURIComponent(to)}/${path.basename(friends.folder)}`;
      await expect(letters(address), to).rejects.toMatchObject({ code: 'source-unreachable' });
    }
    expect(readdirSync(evidence)).toEqual([]);
    expect(copies()).toHaveLength(1);
  }, 90_000);

  it('are given up after a time, whether the server says nothing or says it slowly', async () => {
    const big = cuffRepository();
    big.write('devices/cuff/left/source/model.bin', randomBytes(8 * 1024 ** 2));
    big.commit('large');
    const folder = temporaryFolder();
    symlinkSync(big.folder, path.join(folder, 'big'));
    const own = await gitServer(folder);
    process.env['GIT_SSL_CAINFO'] = own.certificate;
    try {
      for (const way of ['silent', 'drip']) {
        const started = performance.now();
        await expect(
          letters(`${own.address}/${way}/big`, { limits: { ...usual, time_ms: 1500 } }),
        ).rejects.toMatchObject({
          code: 'source-unreachable',
          message: expect.stringContaining('longer than 2 seconds') as string,
        });
        expect(performance.now() - started).toBeLessThan(15_000);
        expect(copies()).toEqual([]);
      }
    } finally {
      await own.close();
    }
  }, 90_000);

  it('are given up while they are fetched when they take too much room, and nothing is left', async () => {
    const big = cuffRepository();
    big.write('devices/cuff/left/source/model.bin', randomBytes(24 * 1024 ** 2));
    big.commit('large');
    const folder = temporaryFolder();
    symlinkSync(big.folder, path.join(folder, 'big'));
    const own = await gitServer(folder);
    process.env['GIT_SSL_CAINFO'] = own.certificate;
    const limits = { ...usual, bytes: 1024 ** 2 };
    const tooLarge = {
      code: 'source-too-large',
      message: "The source 'friends' takes more than 1 MiB, so fetching it was given up.",
    };
    try {
      const started = performance.now();
      // In full it would take 19 seconds.
      await expect(letters(`${own.address}/drip/big`, { limits })).rejects.toMatchObject(tooLarge);
      expect(performance.now() - started).toBeLessThan(15_000);
      expect(copies()).toEqual([]);
      // One that comes at once is measured when it is here; so is one from a folder.
      await expect(letters(`${own.address}/git/big`, { limits })).rejects.toMatchObject(tooLarge);
      await expect(letters(big.folder, { limits })).rejects.toMatchObject(tooLarge);
      expect(copies()).toEqual([]);
      expect(await letters(`${own.address}/git/big`, { limits: usual })).toEqual([]);
    } finally {
      await own.close();
    }
  }, 90_000);
});

describe('a copy', () => {
  it('is tidied of what killed fetches left, but not while another fetch is at it', async () => {
    const known = await letters(friends.folder);
    const clean = filesOfCopy();
    const copy = path.join(cache, 'sources', copies()[0]);
    const gone = execFileSync(process.execPath, ['-p', 'process.pid'], { encoding: 'utf8' }).trim();
    const leave = (): void => {
      writeFileSync(path.join(copy, 'objects/pack/tmp_pack_Abc123'), 'x');
      mkdirSync(path.join(copy, 'objects/tmp_objdir-incoming-Abc123'));
      writeFileSync(path.join(copy, `fetching-${gone}-01234567`), '');
      writeFileSync(path.join(copy, `kinprint-config.${gone}-01234567`), '');
    };
    leave();
    writeFileSync(path.join(copy, 'refs/kinprint/source.lock'), '');
    writeFileSync(path.join(cache, 'sources', `${'a'.repeat(32)}.${gone}-01234567`), '');
    expect(await letters(friends.folder, { fresh: true })).toEqual(known);
    expect(filesOfCopy()).toEqual(clean);

    leave();
    writeFileSync(path.join(copy, `fetching-${process.ppid}-01234567`), '');
    expect(await letters(friends.folder, { fresh: true })).toEqual(known);
    expect(filesOfCopy()).toContain('objects/pack/tmp_pack_Abc123');
  }, 60_000);

  it('is not written through a link in its place', async () => {
    await letters(friends.folder);
    const [name] = copies();
    const place = path.join(cache, 'sources', name);
    const mine = path.join(temporaryFolder(), 'mine');
    renameSync(place, mine);
    symlinkSync(mine, place);
    const before = readdirSync(mine, { recursive: true });
    expect(await letters(friends.folder, { fresh: true })).not.toEqual([]);
    expect(readdirSync(mine, { recursive: true })).toEqual(before);
    expect(readdirSync(place)).toContain('kinprint-config');
  }, 60_000);
});
