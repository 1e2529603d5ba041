import { writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Credits } from '@kinprint/license';
import { readRegistry, recordVariant, workingFiles, type RegistryAudit } from '@kinprint/registry';
import { afterAll, beforeAll, expect, it } from 'vitest';
import {
  boxFile,
  cuffRepository,
  leftManifest,
} from '../../packages/registry/src/testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  temporaryFolder,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { ownCache } from '../support/own-cache.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

ownCache(temporaryFolder);
beforeAll(identity);
afterAll(removeTemporaryFolders);

const record = async (folder: string, date: string): Promise<void> => {
  const outcome = await recordVariant(await readRegistry(workingFiles(folder)), 'cuff/left', { date });
  expect(outcome.kind).toBe('recorded');
};

it(
  'works of other registries are walked by the letter that was built on; what is not at hand is named',
  { timeout: 120_000 },
  async () => {
    const friends = cuffRepository();
    await record(friends.folder, '2025-03-14');
    // Later the friends took somebody in and another license: not owed by who built on A.
    friends.write(
      'devices/cuff/left/variant.yaml',
      friends
        .git('show', 'HEAD:devices/cuff/left/variant.yaml')
        .replace('license: CC-BY-SA-4.0', 'license: CC-BY-NC-4.0')
        .replace('authors:\n', 'authors:\n  - name: Late Comer\n'),
    );
    friends.write('devices/cuff/left/parts/shell.stl', boxFile(43, 30, 20));
    await record(friends.folder, '2025-04-14');

    const ours = cuffRepository();
    const settings = (policy: string): string =>
      `kinprint: registry/1\nname: Ours\nsources:\n  friends: { git: '${friends.folder}' }\n${policy}`;
    ours.write('registry.yaml', settings(''));
    ours.write(
      'devices/cuff/left/variant.yaml',
      leftManifest
        .replace('license: CC-BY-SA-4.0', 'license: MIT')
        .replace('Ines Sample', 'Kim Example')
        .replace(
          'parts:\n',
          'derivations:\n  - from: friends:cuff/left@A\n    relation: remix\n    changes: Wider.\nparts:\n',
        ),
    );
    ours.write('devices/cuff/left/parts/shell.stl', boxFile(44, 30, 20));

    const audited = async (...args: string[]) => {
      const { out, err } = await runCli(['audit', '--json', ...args], ours.folder);
      expect(err).toBe('');
      const report = JSON.parse(out) as RegistryAudit;
      expect(objections('audit', report)).toEqual([]);
      return report;
    };
    const told = ({ works }: RegistryAudit): string[] =>
      works.flatMap(({ findings }) =>
        findings.map(f => `${f.severity} ${f.code} ${f.path.at(-1)?.to ?? ''}`),
      );

    const unknown = await audited('--use', 'sale');
    expect(told(unknown)).toEqual(['ask ancestor-unknown friends:cuff/left@A']);
    expect(unknown.works[0].use?.answer).toBe('ask');

    const fetched = await audited('--sources');
    expect(told(fetched)).toEqual([
      'error share-alike friends:cuff/left@A',
      'error credit-missing friends:cuff/left@A',
    ]);
    expect(JSON.stringify(fetched.works)).toContain('Ines Sample');
    expect(JSON.stringify(fetched.works)).not.toContain('Late Comer');
    expect([fetched.guessed, fetched.unread]).toEqual([[], []]);

    // Once fetched they are at hand, for the credits as well, and the policy holds for them.
    ours.write('registry.yaml', settings('policy:\n  licenses:\n    forbid: [CC-BY-SA-4.0]\n'));
    expect(told(await audited())).toContain('error license-forbidden friends:cuff/left@A');
    const { out } = await runCli(['credits', 'cuff/left', '--json'], ours.folder);
    const { from, unknown: missing } = JSON.parse(out) as Credits;
    expect([from.map(({ id, authors }) => [id, authors]), missing]).toEqual([
      [['friends:cuff/left@A', ['Ines Sample']]],
      [],
    ]);

    // A shape is compared across registries.
    writeFileSync(path.join(ours.folder, 'devices/cuff/left/parts/shell.stl'), boxFile(40, 30, 20));
    expect(told(await audited())).toContain('note unchanged-copy friends:cuff/left@A');
  },
);
