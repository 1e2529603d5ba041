import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { noChoices } from '@kinprint/compare';
import { writeStlBinary } from '@kinprint/mesh';
import type { Take } from '@kinprint/solid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { tube } from '../../../mesh/src/testing/shapes.ts';
import { bundleWorker, removeWorker } from '../testing/bundle-worker.ts';
import {
  combineEntries,
  combineFiles,
  keptCombinations,
  readAlike,
  type CombineWork,
} from './combine-files.ts';

let worker: URL;
const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-combine-'));
const names = { base: 'base.stl', a: 'wide.stl', b: 'long.stl' };
const places = {
  base: path.join(folder, names.base),
  a: path.join(folder, names.a),
  b: path.join(folder, names.b),
};

beforeAll(async () => {
  worker = await bundleWorker();
  writeFileSync(places.base, writeStlBinary(tube(32, 10, 6, 20)));
  writeFileSync(places.a, writeStlBinary(tube(32, 12, 6, 20)));
  writeFileSync(places.b, writeStlBinary(tube(32, 10, 6, 24)));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  removeWorker();
});

const work: CombineWork = {
  options: { asPlaced: true },
  choices: { ...noChoices, all: 'both' },
  format: 'stl',
  read: readAlike({}),
};

describe('combining in a thread of its own', () => {
  it('gives what this thread gives', async () => {
    const apart = await combineFiles(combineEntries(places), names, { ...work, worker });
    const here = await combineFiles(combineEntries(places), names, { ...work, worker: null });
    expect(apart.combination).toEqual(here.combination);
    expect(Buffer.from(apart.bytes!)).toEqual(Buffer.from(here.bytes!));
    expect(apart.combination.proof?.holds).toBe(true);
  }, 60_000);

  it('asked again with other choices gives what these give from the start, and reads no file again', async () => {
    const moved = path.join(folder, 'moved.stl');
    writeFileSync(moved, writeStlBinary(tube(32, 10, 6, 24)));
    for (const where of [worker, null]) {
      const kept = keptCombinations();
      const entries = combineEntries({ ...places, b: moved });
      const ask = (all: Take | null) =>
        kept.combine('', entries, names, { ...work, choices: { ...noChoices, all }, worker: where });
      const open = await ask(null);
      expect(open.combination.conflicts.length).toBeGreaterThan(0);
      expect(open.bytes).toBeNull();
      rmSync(moved);
      for (const all of ['both', 'b', null, 'none'] as const) {
        const wanted = { ...work, choices: { ...noChoices, all }, worker: null };
        const fresh = await combineFiles(combineEntries(places), names, wanted);
        expect(await ask(all)).toEqual(fresh);
      }
      await kept.close();
      writeFileSync(moved, writeStlBinary(tube(32, 10, 6, 24)));
    }
  }, 120_000);

  it('is ended when it takes too long, with a remedy', async () => {
    const late = combineFiles(combineEntries(places), names, { ...work, worker, limit_ms: 0 });
    await expect(late).rejects.toMatchObject({
      code: 'combine-not-finished',
      remedy: expect.stringContaining('--tolerance') as string,
    });
  });

  it('tells which file is at fault', async () => {
    writeFileSync(path.join(folder, 'cut.stl'), writeStlBinary(tube(32, 10, 6, 20)).subarray(0, 500));
    const broken = combineEntries({ ...places, b: path.join(folder, 'cut.stl') });
    await expect(combineFiles(broken, { ...names, b: 'cut.stl' }, { ...work, worker })).rejects.toMatchObject(
      { place: { file: 'cut.stl' } },
    );
  });
});
