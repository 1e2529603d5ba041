import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeStlBinary } from '@kinprint/mesh';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { box } from '../../../mesh/src/testing/shapes.ts';
import { openCache } from '../cache/cache.ts';
import { readRegistry } from '../state/read-registry.ts';
import type { FileRef } from '../state/registry-files.ts';
import { workingFiles } from '../state/working-files.ts';
import { bundleWorker, removeWorker } from '../testing/bundle-worker.ts';
import { smallRegistry } from '../testing/small-registry.ts';
import { removeTemporaryFolders, temporaryFolder } from '../testing/temporary-repository.ts';
import { measureParts } from './measure-parts.ts';

let worker: URL;
beforeAll(async () => {
  worker = await bundleWorker();
});
afterAll(() => {
  removeWorker();
  removeTemporaryFolders();
});

async function meshes(folder: string) {
  const files = workingFiles(folder);
  const state = await readRegistry(files);
  const refs = [...state.variants.values()].flatMap(variant => variant.files);
  return { files, wanted: refs.map(ref => ({ ref, unit: null })) };
}

function registryOfBoxes(count: number) {
  const registry = smallRegistry();
  const names = Array.from({ length: count }, (_, k) => `box-${k}.stl`);
  registry.variant(
    'left',
    'parts: []\n',
    Object.fromEntries(names.map((name, k) => [name, box(1 + (k % 3), 2, 3)])),
  );
  registry.write('devices/cuff/left/parts/broken.stl', 'no mesh');
  return registry;
}

describe('measureParts', () => {
  it('measures each content once, and nothing that the cache knows', async () => {
    const { folder } = registryOfBoxes(9);
    const { files, wanted } = await meshes(folder);
    const cacheFolder = temporaryFolder();
    const measured = async () => {
      let total = 0;
      const cache = openCache(cacheFolder);
      const looks = await measureParts(files, wanted, { cache, progress: (_, of) => (total = of) });
      return { looks, total };
    };
    const cold = await measured();
    expect(cold.total).toBe(4); // three boxes and the broken file
    const volumes = cold.looks.map(look => (look.state === 'measured' ? look.facts.volume_mm3 : look.state));
    expect(volumes).toEqual([6, 12, 18, 6, 12, 18, 6, 12, 18, 'unreadable']);
    const warm = await measured();
    expect(warm.total).toBe(0);
    expect(warm.looks).toEqual(cold.looks);
  });

  it('reads a mesh again in another unit', async () => {
    const { folder } = registryOfBoxes(1);
    const { files, wanted } = await meshes(folder);
    const ref = wanted.find(({ ref: r }) => r.path.endsWith('box-0.stl'))!.ref;
    const looks = await measureParts(
      files,
      [
        { ref, unit: null },
        { ref, unit: 'centimeter' },
      ],
      { cache: openCache(null) },
    );
    expect(looks.map(look => (look.state === 'measured' ? look.facts.volume_mm3 : null))).toEqual([6, 6000]);
  });

  it('finds the same in threads', async () => {
    const { folder } = registryOfBoxes(6);
    // Enough bytes that threads pay.
    writeFileSync(path.join(folder, 'devices/cuff/left/parts/large.ply'), new Uint8Array(600_000));
    const { files, wanted } = await meshes(folder);
    const here = await measureParts(files, wanted, { cache: openCache(null), worker: null });
    const there = await measureParts(files, wanted, { cache: openCache(null), worker });
    expect(there).toEqual(here);
  });

  it('does not remember what was measured of a file that changed after it was hashed', async () => {
    const { folder } = registryOfBoxes(1);
    const { files, wanted } = await meshes(folder);
    const file = path.join(folder, 'devices/cuff/left/parts/box-0.stl');
    const cache = openCache(null);
    const changing = {
      ...files,
      sha256: async (ref: FileRef) => {
        const hash = await files.sha256(ref);
        if (ref.path.endsWith('box-0.stl')) writeFileSync(file, writeStlBinary(box(9, 9, 9)));
        return hash;
      },
    };
    await measureParts(changing, wanted, { cache });
    writeFileSync(file, writeStlBinary(box(1, 2, 3)));
    const [look] = await measureParts(files, wanted, { cache });
    expect(look.state === 'measured' ? look.facts.volume_mm3 : null).toBe(6);
  });
});
