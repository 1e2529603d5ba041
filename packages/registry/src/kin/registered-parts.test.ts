import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stateHistory } from '../history/content-at.ts';
import { recordVariant } from '../record/record-variant.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { boxFile, cuffRepository } from '../testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { recordedParts } from './registered-parts.ts';

beforeAll(identity);
afterAll(removeTemporaryFolders);

const read = (repo: TemporaryRepository) => readRegistry(workingFiles(repo.folder));

async function record(repo: TemporaryRepository, address: string): Promise<void> {
  const { kind } = await recordVariant(await read(repo), address, { date: '2026-03-14' });
  expect(kind).toBe('recorded');
}

async function lettersWithin(repo: TemporaryRepository, most: number) {
  const history = stateHistory(repo.folder);
  try {
    const { parts, missing } = await recordedParts(await read(repo), history, null, most);
    return { letters: parts.map(({ place }) => `${place.address}@${place.letter} ${place.part}`), missing };
  } finally {
    await history.close();
  }
}

describe('recordedParts', () => {
  it('counts as left out what is left out, not letters whose content is the present one', async () => {
    const repo = cuffRepository();
    const manifest = readFileSync(path.join(repo.folder, 'devices/cuff/left/variant.yaml'), 'utf8');
    for (const [k, name] of ['middle', 'right'].entries()) {
      repo.write(`devices/cuff/${name}/variant.yaml`, manifest.replace('left, small', name));
      repo.write(`devices/cuff/${name}/parts/shell.stl`, boxFile(50 + k, 30, 20));
      repo.write(`devices/cuff/${name}/parts/strap.stl`, boxFile(70 + k, 10, 2));
    }
    for (const name of ['left', 'middle', 'right']) await record(repo, `cuff/${name}`);
    // Three letters, all of them looked through as what the variants hold now.
    expect(await lettersWithin(repo, 0)).toEqual({ letters: [], missing: 0 });

    repo.write('devices/cuff/right/parts/shell.stl', boxFile(53, 30, 20));
    await record(repo, 'cuff/right');
    const older = ['cuff/right@A shell', 'cuff/right@A strap'];
    expect(await lettersWithin(repo, 1)).toEqual({ letters: older, missing: 0 });
    expect(await lettersWithin(repo, 0)).toEqual({ letters: [], missing: 1 });

    // Changed and not recorded: then the last letter, too, is in the history alone.
    repo.write('devices/cuff/right/parts/shell.stl', boxFile(54, 30, 20));
    expect(await lettersWithin(repo, 2)).toEqual({
      letters: ['cuff/right@B shell', 'cuff/right@B strap', ...older],
      missing: 0,
    });
    expect(await lettersWithin(repo, 1)).toMatchObject({ missing: 1 });
  }, 60_000);
});
