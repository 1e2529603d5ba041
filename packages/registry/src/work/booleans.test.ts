import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { compareMeshes } from '@kinprint/compare';
import { measureMesh, type Mesh } from '@kinprint/mesh';
import { moved, rotation, without } from '../../../mesh/src/testing/motions.ts';
import { box, tube } from '../../../mesh/src/testing/shapes.ts';
import { bundleWorker, removeWorker } from '../testing/bundle-worker.ts';
import { booleansApart, booleansHere, type Booleans } from './booleans.ts';

let built: URL;
beforeAll(async () => {
  built = await bundleWorker();
});
afterAll(removeWorker);

const side = (mesh: Mesh) => ({ mesh, measurement: measureMesh(mesh) });
const [wide, narrow] = [tube(48, 10, 6, 20), tube(48, 10, 5.5, 20)];

async function compared(booleans: Booleans, before = wide, after = narrow) {
  try {
    return await compareMeshes(booleans.find, side(before), side(after));
  } finally {
    await booleans.close();
  }
}

describe('booleans in a thread of their own', () => {
  test('find what they find in this thread', async () => {
    const apart = await compared(booleansApart(built));
    expect(apart).toEqual(await compared(booleansHere));
    expect(apart.volume.added_mm3).toBeGreaterThan(0);
  });

  test('are ended when they take too long; the rest of the comparison stands', async () => {
    const found = await compared(booleansApart(built, () => 0));
    expect(found.verdict).toBe('reworked');
    expect(found.volume.added_mm3).toBeNull();
    expect(found.notes.map(note => note.code)).toContain('material-not-finished');
    expect(found.deviation?.max_mm).toBeCloseTo(0.5, 2);
  });

  test('serve the next pair after one was given up', async () => {
    let limit = 0;
    const booleans = booleansApart(built, () => limit);
    expect(await booleans.find(wide, narrow, { tolerance_mm: 1e-3 })).toBeNull();
    limit = 60_000;
    const found = await booleans.find(wide, narrow, { tolerance_mm: 1e-3 });
    expect(found?.added_mm3).toBeGreaterThan(0);
    await booleans.close();
  });
});

test('a mesh without a volume never gets that far', async () => {
  const open = without(box(3, 4, 5), 0);
  const never: Booleans = { ...booleansHere, find: () => Promise.reject(new Error('asked')) };
  expect((await compared(never, open, moved(wide, rotation(1, 0, 0, 0), [1, 2, 3]))).volume.added_mm3).toBe(
    null,
  );
});
