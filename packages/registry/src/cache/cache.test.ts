import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { execFile, execFileSync } from 'node:child_process';
import path from 'node:path';
import { promisify } from 'node:util';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { cacheFolder } from './cache-folder.ts';
import { openCache } from './cache.ts';
import { cacheDefaults } from './defaults.ts';
import { hashMemory } from './hash-memory.ts';
import { entryLine, entryValue, indexSegment } from './segment.ts';

afterAll(removeTemporaryFolders);

const segmentsIn = (folder: string) => readdirSync(path.join(folder, 'thing-1'));

describe('a cache', () => {
  it('keeps values between runs, by kind, version and key', () => {
    const folder = temporaryFolder();
    const first = openCache(folder);
    first.put('thing', 1, 'a', { x: [1, null, 'ü\n'] });
    expect(first.get('thing', 1, 'a')).toEqual({ x: [1, null, 'ü\n'] });
    first.flush();
    expect(first.get('thing', 1, 'a')).toEqual({ x: [1, null, 'ü\n'] });
    const second = openCache(folder);
    expect(second.get('thing', 1, 'a')).toEqual({ x: [1, null, 'ü\n'] });
    expect(second.get('thing', 2, 'a')).toBeUndefined();
    expect(second.get('other', 1, 'a')).toBeUndefined();
    expect(second.get('thing', 1, 'b')).toBeUndefined();
  });

  it('gives the latest value of a key', () => {
    const folder = temporaryFolder();
    for (const value of [1, 2, 3]) {
      const cache = openCache(folder);
      cache.put('thing', 1, 'a', value);
      cache.flush();
    }
    expect(openCache(folder).get('thing', 1, 'a')).toBe(3);
  });

  it('keeps any JSON', () => {
    const folder = temporaryFolder();
    fc.assert(
      fc.property(fc.string(), fc.jsonValue(), (key, value) => {
        const plain = JSON.parse(JSON.stringify(value)) as unknown;
        const cache = openCache(folder);
        cache.put('thing', 1, key, plain);
        cache.flush();
        expect(openCache(folder).get('thing', 1, key)).toEqual(plain);
      }),
      { numRuns: 30 },
    );
  });

  it.runIf(process.platform === 'linux')(
    'reads no pipes and devices, and gives up on folders that cannot be',
    () => {
      const folder = temporaryFolder();
      const cache = openCache(folder);
      cache.put('thing', 1, 'a', 1);
      cache.flush();
      symlinkSync('/dev/zero', path.join(folder, 'thing-1', '0.segment'));
      execFileSync('mkfifo', [path.join(folder, 'thing-1', '1.segment')]);
      expect(openCache(folder).get('thing', 1, 'a')).toBe(1);
      const nowhere = openCache('/proc/self/kinprint');
      nowhere.put('thing', 1, 'a', 1);
      nowhere.flush();
      expect(nowhere.get('thing', 1, 'a')).toBe(1);
    },
  );

  it('passes over damaged and cut-off entries, and keeps the others', () => {
    const folder = temporaryFolder();
    const cache = openCache(folder);
    for (const key of ['a', 'b', 'c']) cache.put('thing', 1, key, `value of ${key}`);
    cache.flush();
    const file = path.join(folder, 'thing-1', segmentsIn(folder)[0]);
    const text = readFileSync(file, 'utf8').replace('value of a', 'value of A');
    writeFileSync(file, text.slice(0, -4));
    const damaged = openCache(folder);
    expect(['a', 'b', 'c'].map(key => damaged.get('thing', 1, key))).toEqual([
      undefined,
      'value of b',
      undefined,
    ]);
  });

  it('joins its files, and forgets the oldest values beyond its bound', () => {
    const folder = temporaryFolder();
    const value = 'x'.repeat(1000);
    for (let i = 0; i <= cacheDefaults.maxSegments; i++) {
      const cache = openCache(folder, 20_000);
      cache.put('thing', 1, `key ${i}`, value);
      cache.flush();
    }
    const joined = openCache(folder, 20_000);
    expect(joined.get('thing', 1, 'key 0')).toBeUndefined();
    expect(joined.get('thing', 1, `key ${cacheDefaults.maxSegments}`)).toBe(value);
    expect(segmentsIn(folder)).toHaveLength(1);
    expect(readFileSync(path.join(folder, 'thing-1', segmentsIn(folder)[0])).length).toBeLessThan(10_001);
  });

  it('is as good as empty where the folder cannot be used', () => {
    const folder = temporaryFolder();
    writeFileSync(path.join(folder, 'file'), '');
    const cache = openCache(path.join(folder, 'file'));
    cache.put('thing', 1, 'a', 1);
    cache.flush();
    expect(openCache(path.join(folder, 'file')).get('thing', 1, 'a')).toBeUndefined();
    mkdirSync(path.join(folder, 'locked'));
    chmodSync(path.join(folder, 'locked'), 0o000);
    expect(() => {
      const locked = openCache(path.join(folder, 'locked'));
      locked.put('thing', 1, 'a', 1);
      locked.flush();
    }).not.toThrow();
  });

  it('lasts as long as the process without a folder', () => {
    const cache = openCache(null);
    cache.put('thing', 1, 'a', 5);
    cache.flush();
    expect(cache.get('thing', 1, 'a')).toBe(5);
    expect(cache.lasting).toBe(false);
  });

  it('loses nothing when several processes write and join at a time', async () => {
    const folder = temporaryFolder();
    const program = `
      import { openCache } from ${JSON.stringify(path.join(import.meta.dirname, 'cache.ts'))};
      for (let i = 0; i < 20; i++) {
        const cache = openCache(${JSON.stringify(folder)});
        cache.get('thing', 1, 'a');
        cache.put('thing', 1, process.argv[1] + ' ' + i, i);
        cache.flush();
      }`;
    const run = (name: string) =>
      promisify(execFile)(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', program, name], {
        cwd: import.meta.dirname,
      });
    await Promise.all(['p', 'q', 'r'].map(run));
    const cache = openCache(folder);
    for (const name of ['p', 'q', 'r'])
      for (let i = 0; i < 20; i++) expect(cache.get('thing', 1, `${name} ${i}`)).toBe(i);
  });
});

describe('a segment', () => {
  it('is read whatever its bytes are', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), bytes => {
        const buffer = Buffer.concat([bytes, Buffer.from(`\n${entryLine('good', '7')}`)]);
        let good: unknown;
        indexSegment(buffer, (key, start, end) => {
          const entry = entryValue(buffer.subarray(start, end));
          if (key === 'good') good = entry?.value;
        });
        expect(good).toBe(7);
      }),
    );
  });
});

describe('cacheFolder', () => {
  it('follows the base directory specification', () => {
    const home = path.resolve('/home/robin');
    expect(cacheFolder({}, home)).toBe(path.join(home, '.cache', 'kinprint'));
    expect(cacheFolder({ XDG_CACHE_HOME: 'relative' }, home)).toBe(path.join(home, '.cache', 'kinprint'));
    expect(cacheFolder({ XDG_CACHE_HOME: path.resolve('/c') }, home)).toBe(path.resolve('/c/kinprint'));
    expect(cacheFolder({ KINPRINT_CACHE: path.resolve('/k'), XDG_CACHE_HOME: '/c' }, home)).toBe(
      path.resolve('/k'),
    );
    expect(cacheFolder({ KINPRINT_CACHE: 'off' }, home)).toBeNull();
  });
});

describe('hashMemory', () => {
  const hash = 'ab'.repeat(32);
  function file(age_s: number) {
    const name = path.join(temporaryFolder(), 'part.stl');
    writeFileSync(name, 'content');
    const then = Date.now() / 1000 - age_s;
    utimesSync(name, then, then);
    return { kind: 'file', path: name } as const;
  }
  // Times of change cannot be set, so the clock is.
  const later = () => Date.now() + 60_000;

  it('knows a file as long as the file system says the same of it', () => {
    const folder = temporaryFolder();
    const key = file(100);
    const first = openCache(folder);
    hashMemory(first, later).learn(key, hash);
    first.flush();
    const memory = hashMemory(openCache(folder));
    expect(memory.known(key)).toBe(hash);
    writeFileSync(key.path, 'changed'); // of the same length
    expect(memory.known(key)).toBeNull();
  });

  it('sees a change behind times that were set back', () => {
    const key = file(100);
    const memory = hashMemory(openCache(null), later);
    memory.learn(key, hash);
    expect(memory.known(key)).toBe(hash);
    writeFileSync(key.path, 'changed');
    utimesSync(key.path, Date.now() / 1000 - 100, Date.now() / 1000 - 100);
    expect(memory.known(key)).toBeNull();
  });

  it('does not trust what was changed just now', () => {
    const key = file(0);
    const memory = hashMemory(openCache(null));
    memory.learn(key, hash);
    expect(memory.known(key)).toBeNull();
  });

  it('knows git objects by their id, and no file that is gone', () => {
    const memory = hashMemory(openCache(null), later);
    memory.learn({ kind: 'object', format: 'sha1', id: 'cd'.repeat(20) }, hash);
    expect(memory.known({ kind: 'object', format: 'sha1', id: 'cd'.repeat(20) })).toBe(hash);
    expect(memory.known({ kind: 'object', format: 'sha256', id: 'cd'.repeat(20) })).toBeNull();
    expect(memory.known({ kind: 'file', path: '/nowhere/part.stl' })).toBeNull();
  });
});
