import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { box } from '../../../mesh/src/testing/shapes.ts';
import { openCache } from '../cache/cache.ts';
import { assembled } from '../testing/assembled.ts';
import { bundleWorker, removeWorker } from '../testing/bundle-worker.ts';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { interferenceSearch } from './interference-search.ts';

let worker: URL;
beforeAll(async () => {
  worker = await bundleWorker();
});
afterAll(() => {
  removeWorker();
  removeTemporaryFolders();
});

const lines = `parts:
  - { id: block, mesh: parts/block.stl }
  - { id: bar, mesh: parts/bar.stl }
assembly:
  - { part: block }
  - { part: bar, translate_mm: [8, 2, 2] }
`;
const meshes = { 'block.stl': box(10, 10, 10), 'bar.stl': box(10, 6, 6) };

describe('interferences in a thread of their own', () => {
  it('are those found in this thread', async () => {
    const cache = openCache(null);
    const apart = await assembled(lines, meshes, { cache, search: interferenceSearch({ cache, worker }) });
    const here = await assembled(lines, meshes, { cache: openCache(null) });
    expect(apart.interferences).toEqual(here.interferences);
    expect(here.interferences?.map(one => Math.round(one.volume_mm3))).toEqual([72]);
  });

  it('are given up after their time; a note says so, and the next ones are found', async () => {
    const cache = openCache(null);
    const hasty = interferenceSearch({ cache, worker, limit_ms: 0 });
    const { interferences, notes } = await assembled(lines, meshes, { cache, search: hasty });
    expect(interferences).toBeNull();
    expect(notes.map(({ code }) => code)).toEqual(['assembly-not-finished']);
    const patient = interferenceSearch({ cache, worker });
    expect((await assembled(lines, meshes, { cache, search: patient })).interferences).toHaveLength(1);
  });
});

it('the cache knows an assembly by contents and places, and nothing spoiled', async () => {
  const folder = temporaryFolder();
  const run = async (text: string) => {
    const cache = openCache(folder);
    const { interferences } = await assembled(text, meshes, { cache });
    cache.flush();
    return interferences;
  };
  const first = await run(lines);
  expect(await run(lines)).toEqual(first);
  // What is remembered under this very key is what is given, unless its form is spoiled.
  const spoil = async (value: unknown) => {
    const cache = openCache(folder);
    const get: typeof cache.get = (...key) => {
      cache.put(...key, value);
      return undefined;
    };
    const search = interferenceSearch({ cache: { ...cache, get, put: () => undefined } });
    await assembled(lines, meshes, { cache, search });
    cache.flush();
  };
  await spoil({ found: [], unusable: [], pairs: 1 });
  expect(await run(lines)).toEqual([]);
  await spoil({ found: [{ a: 'no' }], unusable: [], pairs: 1 });
  expect(await run(lines)).toEqual(first);
  expect(await run(lines.replace('[8, 2, 2]', '[10, 2, 2]'))).toEqual([]);
});
