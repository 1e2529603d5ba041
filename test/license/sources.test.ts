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

it(
  'a part with the shape of one that another registry holds is found there, and not where it is declared or the same registry',
  { timeout: 300_000 },
  async () => {
    const friends = cuffRepository();
    await record(friends.folder, '2025-03-14');
    // What they made of it themselves is related to it by their own lineage.
    friends.write(
      'devices/cuff/right/variant.yaml',
      leftManifest.replace('parts:\n', 'derivations:\n  - from: cuff/left@A\n    relation: copy\nparts:\n'),
    );
    friends.write('devices/cuff/right/parts/shell.stl', boxFile(40, 30, 20));
    friends.git('add', '-A');
    friends.git('commit', '-q', '-m', 'A copy');
    const ours = cuffRepository();
    ours.write(
      'registry.yaml',
      `kinprint: registry/1\nname: Ours\nsources:\n  friends: { git: '${friends.folder}' }\n`,
    );
    const plain = leftManifest
      .replace('license: CC-BY-SA-4.0', 'license: MIT')
      .replace('Ines Sample', 'Kim Example');
    ours.write('devices/cuff/left/variant.yaml', plain);
    ours.write('devices/cuff/left/parts/shell.stl', boxFile(44, 33, 22));
    const told = async (...args: string[]): Promise<string[]> => {
      const { out } = await runCli(['audit', '--json', ...args], ours.folder);
      const report = JSON.parse(out) as RegistryAudit;
      expect(objections('audit', report)).toEqual([]);
      return report.works.flatMap(({ findings }) =>
        findings.filter(f => f.code.endsWith('relative')).map(f => `${f.severity} ${f.code} ${f.text}`),
      );
    };
    // The strap is the same as well; so is the copy that has no letter, which may be the younger one.
    const found = (await told('--sources')).filter(text => /^error .* shell has/.test(text));
    expect(found).toHaveLength(1);
    expect(found[0]).toContain(
      'error undeclared-relative shell has the shape of friends:cuff/left@A/shell: the same shape after scaling by 1.1;',
    );
    expect(found[0]).toContain('Ines Sample would have to be named.');
    // Declared to come from theirs, it is a relative of their copy as well.
    ours.write(
      'devices/cuff/left/variant.yaml',
      plain.replace(
        'parts:\n',
        'derivations:\n  - from: friends:cuff/left@A\n    relation: rescale\nparts:\n',
      ),
    );
    expect(await told()).toEqual([]);
  },
);
