import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { writeStlBinary } from '@kinprint/mesh';
import { box, tube } from '../../../mesh/src/testing/shapes.ts';
import { snapshotFromPath } from '../snapshot/from-folder.ts';
import { bundleWorker, removeWorker } from '../testing/bundle-worker.ts';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { entryInput } from './entry-input.ts';
import { openPool } from './pool.ts';
import type { Task } from './task.ts';
import { takeTurns } from './turns.ts';

afterAll(() => {
  removeWorker();
  removeTemporaryFolders();
});

const bytesTask = (name: string): Extract<Task, { kind: 'measure' }> => ({
  kind: 'measure',
  file: { name, content: { kind: 'bytes', bytes: writeStlBinary(box(1, 2, 3)) }, body: null },
  options: {},
});

function workerFile(source: string): URL {
  const file = path.join(temporaryFolder(), 'worker.mjs');
  writeFileSync(file, source);
  return pathToFileURL(file);
}

describe('threads', () => {
  test('a worker that crashes, runs out of memory or throws spoils its own task only', async () => {
    const worker = workerFile(`
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', task => {
        const { name } = task.file;
        if (name === 'exit') process.exit(3);
        if (name === 'throw') throw new Error('thrown');
        if (name === 'memory') { const kept = []; for (;;) kept.push(new Array(1e6).fill({})); }
        if (name === 'reject') void Promise.reject(new Error('rejected'));
        else parentPort.postMessage({ state: 'done', result: name });
      });`);
    const pool = openPool({
      bytes: null,
      tasks: 9,
      worker,
      threads: 2,
      limits: { maxOldGenerationSizeMb: 48 },
    });
    try {
      const names = ['a', 'exit', 'b', 'throw', 'c', 'memory', 'd', 'reject', 'e'];
      const outcomes = await Promise.all(names.map(name => pool.run(() => Promise.resolve(bytesTask(name)))));
      expect(outcomes.map(outcome => outcome.state)).toEqual([
        'done',
        'fault',
        'done',
        'fault',
        'done',
        'fault',
        'done',
        'fault',
        'done',
      ]);
      expect(outcomes[3]).toMatchObject({ text: expect.stringContaining('thrown') as string });
    } finally {
      await pool.close();
    }
  });

  test('once closed, nothing that still waits is begun, so that the process can end', async () => {
    const worker = workerFile(`
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', task =>
        setTimeout(() => parentPort.postMessage({ state: 'done', result: task.file.name }), 200));`);
    const pool = openPool({ bytes: null, tasks: 6, worker, threads: 2 });
    let made = 0;
    const make = () => Promise.resolve(bytesTask(String(++made)));
    const outcomes = Promise.all(Array.from({ length: 6 }, () => pool.run(make)));
    await new Promise(resolve => setTimeout(resolve, 50));
    await pool.close();
    const states = (await outcomes).map(outcome => outcome.state);
    expect(made).toBe(2);
    expect(states.slice(2)).toEqual(['fault', 'fault', 'fault', 'fault']);
  });

  test('the real worker, bundled, gives what this thread gives', async () => {
    const built = await bundleWorker();
    const folder = temporaryFolder();
    const files = { 'a.stl': tube(48, 10, 6, 20), 'b.stl': tube(48, 10, 5.5, 20) };
    for (const [name, mesh] of Object.entries(files))
      writeFileSync(path.join(folder, name), writeStlBinary(mesh));
    writeFileSync(path.join(folder, 'c.stl'), 'no mesh at all');
    const [a, b, c] = snapshotFromPath(folder).entries;

    const results = [];
    for (const worker of [built, null]) {
      const pool = openPool({ bytes: null, tasks: 2, worker, threads: 2 });
      const compare = (from: typeof a, to: typeof a) =>
        pool.run(async () => ({
          kind: 'compare',
          before: await entryInput(from, null, pool.threads),
          after: await entryInput({ ...to, place: null }, null, pool.threads),
          options: {},
        }));
      expect(pool.threads).toBe(worker !== null);
      results.push(await Promise.all([compare(a, b), compare(a, a), compare(b, c)]));
      await pool.close();
    }
    expect(results[0]).toEqual(results[1]);
    expect(results[0].map(outcome => outcome.state)).toEqual(['done', 'done', 'input-error']);
    expect(results[0][0]).toMatchObject({ result: { comparison: { verdict: 'reworked' } } });
    expect(results[0][2]).toMatchObject({ side: 'after', error: { place: { file: 'c.stl' } } });
  });

  test('little work stays in this thread', async () => {
    const worker = workerFile('');
    for (const options of [
      { bytes: 1000, tasks: 50 },
      { bytes: null, tasks: 1 },
    ]) {
      const pool = openPool({ ...options, worker, threads: 4 });
      expect(pool.threads).toBe(false);
      expect(await pool.run(() => Promise.resolve(bytesTask('x')))).toMatchObject({
        state: 'done',
        result: { whole: { volume_mm3: 6 } },
      });
      await pool.close();
    }
  });
});

test('takeTurns keeps the order and the limit', async () => {
  const turns = takeTurns(2);
  let running = 0;
  let most = 0;
  const started: number[] = [];
  await Promise.all(
    [...Array(9).keys()].map(i =>
      turns(async () => {
        started.push(i);
        most = Math.max(most, ++running);
        await new Promise(resolve => setTimeout(resolve, (i * 7) % 5));
        running--;
        if (i === 4) throw new Error('one fails');
      }).catch(() => undefined),
    ),
  );
  expect(most).toBe(2);
  expect(started).toEqual([...Array(9).keys()]);
});
