import { readFileSync } from 'node:fs';
import path from 'node:path';
import { readDocument } from '@kinprint/manifest';
import { openRepository, openHistory } from '@kinprint/registry';
import { afterAll, expect, test } from 'vitest';
import {
  removeTemporaryFolders,
  temporaryFolder,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { makeRepository } from '../../tools/demo/make-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { emptyRegistry } from './things.ts';

afterAll(removeTemporaryFolders);

test(
  'the plain repository of the demo becomes a device that check accepts',
  { timeout: 300_000 },
  async () => {
    const source = path.join(temporaryFolder(), 'cuff-meshes');
    await makeRepository(source);
    const registry = emptyRegistry();
    expect(await runCli(['adopt', source], registry.folder)).toMatchObject({ code: 0, err: '' });
    const file = 'devices/cuff-meshes/standard/variant.yaml';
    const { value } = readDocument('variant', readFileSync(path.join(registry.folder, file), 'utf8'), file);
    expect(value?.parts.map(({ id, hand }) => [id, hand])).toEqual([
      ['grip-pad', 'both'],
      ['hinge-leaf', 'both'],
      ['plate-small-parts', undefined],
      ['shell-left', 'left'],
      ['shell-right', 'right'],
    ]);
    expect(value?.revisions?.map(({ letter, date, by }) => [letter, date, by])).toEqual([
      ['A', '2024-02-03', 'Mira Oakfield'],
      ['B', '2024-05-18', 'Teo Lindqvale'],
      ['C', '2024-09-07', 'Mira Oakfield'],
    ]);
    expect(value?.revisions?.[1].changes).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^hinge-leaf: reworked; bore 3\.20 → 3\.00 mm/),
        'sleeve-flat-handle: file renamed from utensil-sleeve.stl',
        'strap-buckle: exported again, same shape',
      ]),
    );
    const check = await runCli(['check', '--no-cache', '--json'], registry.folder);
    expect(check.code).toBe(0);
    expect(JSON.parse(check.out)).toMatchObject({ counts: { errors: 0 } });

    // The content of every letter is found in the history again.
    const repository = await openRepository(registry.folder);
    const history = await openHistory(repository);
    for (const revision of value?.revisions ?? [])
      expect(await history.find(revision)).toMatchObject({ found: true });
    await repository.close();
  },
);
