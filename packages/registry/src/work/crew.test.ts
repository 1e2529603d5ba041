import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { measureTask, meshTask, writeStlBinary, type Mesh } from '@kinprint/mesh';
import { joined, moved, rotation, translated, without } from '../../../mesh/src/testing/motions.ts';
import { box, icosphere, tube } from '../../../mesh/src/testing/shapes.ts';
import { bundleWorker, removeWorker } from '../testing/bundle-worker.ts';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { openCrew, type Crew } from './crew.ts';
import { runTask } from './run-task.ts';
import { shared } from './shared.ts';
import type { FileInput } from './task.ts';

let built: URL;
beforeAll(async () => {
  built = await bundleWorker();
});
afterAll(() => {
  removeWorker();
  removeTemporaryFolders();
});

function workerFile(source: string): URL {
  const file = path.join(temporaryFolder(), 'worker.mjs');
  writeFileSync(file, source);
  return pathToFileURL(file);
}

async function withCrew<T>(worker: URL, threads: number, use: (crew: Crew) => Promise<T>): Promise<T> {
  const crew = openCrew({ worker, threads, leastTriangles: 0 });
  if (crew === null) throw new Error('no crew');
  try {
    return await use(crew);
  } finally {
    await crew.close();
  }
}

const input = (mesh: Mesh): FileInput => ({
  name: 'part.stl',
  content: { kind: 'bytes', bytes: writeStlBinary(mesh) },
  body: null,
});
const turn = rotation(0.9, 0.1, -0.3, 0.2);

describe('a crew', () => {
  const pairs: Readonly<Record<string, readonly [Mesh, Mesh]>> = {
    reworked: [tube(48, 10, 6, 20), tube(48, 10, 5.5, 20)],
    moved: [
      joined(box(3, 4, 5), box(1, 1, 1, [9, 0, 0])),
      moved(joined(box(3, 4, 5), box(1, 1, 1, [9, 0, 0])), turn, [1, 2, 3]),
    ],
    'triangulated differently': [icosphere(10, 3), moved(icosphere(10, 3), turn, [0, 0, 0])],
    identical: [box(1, 2, 3), box(1, 2, 3)],
    'without a volume': [box(4, 4, 4), without(translated(box(4, 4, 5), [0, 0, 1]), 3)],
    unlike: [icosphere(10, 2), tube(12, 40, 39, 1)],
    'without faces': [box(1, 2, 3), { positions: new Float32Array(0), triangles: new Uint32Array(0) }],
  };

  test.each(Object.keys(pairs))('compares to the same last bit as one thread: %s', async name => {
    const [before, after] = pairs[name];
    const task = () =>
      ({ kind: 'compare', before: input(before), after: input(after), options: {} }) as const;
    const expected = await runTask(task());
    expect(expected.state).toBe('done');
    const outcome = await withCrew(built, 2, crew => runTask(task(), { crew }));
    expect(outcome).toEqual(expected);
    expect(JSON.stringify(outcome)).toBe(JSON.stringify(expected));
  });

  test('measures the same as one thread', async () => {
    const mesh = joined(tube(24, 10, 6, 20), translated(box(4, 4, 4), [30, 0, 0]));
    const task = () => ({ kind: 'measure', file: input(mesh), options: {} }) as const;
    const expected = await runTask(task());
    expect(await withCrew(built, 1, crew => runTask(task(), { crew }))).toEqual(expected);
    expect(expected).toMatchObject({ state: 'done', result: { whole: { shells: 2 } } });
  });

  test('does in the real worker what is not asked for at once, although this thread is busy', async () => {
    const task = shared(meshTask(box(1, 2, 3), {}));
    const expected = measureTask(task);
    await withCrew(built, 1, async crew => {
      const ask = crew.offer('measure', task);
      const end = performance.now() + 3000;
      while (performance.now() < end);
      // Whoever began only now would find nothing.
      task.object.mesh.positions.fill(0);
      expect(await ask()).toEqual(expected);
    });
  });

  test('does here what nobody has begun, and what a thread died of or failed at', async () => {
    const task = meshTask(box(1, 2, 3), {});
    const begins = `
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', job => {
        if (Atomics.compareExchange(job.claim, 0, 0, job.mine) !== 0) return;`;
    const workers = {
      deaf: 'setInterval(() => {}, 1000);',
      broken: 'throw new Error("broken");',
      dying: `${begins} process.exit(3); });`,
      failing: `${begins} parentPort.postMessage({ id: job.id, result: null }); });`,
    };
    for (const source of Object.values(workers)) {
      await withCrew(workerFile(source), 2, async crew => {
        const ask = crew.offer('measure', task);
        await new Promise(resolve => setTimeout(resolve, 200));
        expect(await ask()).toEqual(measureTask(task));
      });
    }
  });

  test('takes the answer of the thread that has begun', async () => {
    const worker = workerFile(`
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', job => {
        if (Atomics.compareExchange(job.claim, 0, 0, job.mine) === 0)
          setTimeout(() => parentPort.postMessage({ id: job.id, result: { by: job.mine, of: job.id } }), 50);
      });`);
    await withCrew(worker, 1, async crew => {
      const ask = crew.offer('measure', meshTask(box(1, 2, 3), {}));
      await new Promise(resolve => setTimeout(resolve, 500));
      expect(await ask()).toEqual({ by: 1, of: 0 });
      expect(await ask()).toEqual({ by: 1, of: 0 });
    });
  });

  test('is none without a worker or without threads', () => {
    expect(openCrew({ worker: null, threads: 4 })).toBeNull();
    expect(openCrew({ worker: built, threads: 0 })).toBeNull();
  });
});

test('shared keeps everything and moves arrays to shared memory', () => {
  const data = {
    words: ['a', null, undefined, true],
    nested: [{ floats: Float64Array.of(1, -0, NaN), part: Uint32Array.of(1, 2, 3).subarray(1) }],
    bytes: Uint8Array.of(255),
  };
  const result = shared(data);
  expect(result).toEqual(data);
  expect(result.nested[0].part.buffer).toBeInstanceOf(SharedArrayBuffer);
  expect(shared(result).nested[0].floats).toBe(result.nested[0].floats);
});
