import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readRegistry, recordVariant, workingFiles } from '@kinprint/registry';
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
import { publishedObjections } from '../support/published-schemas.ts';
import { ownCache } from '../support/own-cache.ts';
import { runCli } from '../support/run-cli.ts';
import type { CycloneDx, Spdx } from './shapes.ts';

ownCache(temporaryFolder);
beforeAll(identity);
afterAll(removeTemporaryFolders);

it(
  'works of another registry are listed without files while it is not at hand, then with those of the letter',
  { timeout: 120_000 },
  async () => {
    const friends = cuffRepository();
    const state = await readRegistry(workingFiles(friends.folder));
    expect((await recordVariant(state, 'cuff/left', { date: '2025-03-14' })).kind).toBe('recorded');
    const recorded = friends.git('rev-parse', 'HEAD').trim();
    friends.write('devices/cuff/left/parts/shell.stl', boxFile(43, 30, 20));
    friends.git('commit', '-qam', 'Wider');
    const ours = cuffRepository();
    ours.write(
      'registry.yaml',
      `kinprint: registry/1\nname: Ours\nsources:\n  friends: { git: '${friends.folder}' }\n`,
    );
    ours.write(
      'devices/cuff/left/variant.yaml',
      leftManifest.replace(
        'parts:\n',
        'derivations:\n  - from: friends:cuff/left@A\n    relation: remix\n    changes: Wider.\nparts:\n',
      ),
    );
    const document = async <T>(format: 'spdx' | 'cyclonedx', ...more: string[]): Promise<T> => {
      const args = ['credits', 'cuff/left', '--format', format, '--date', '2026-03-14', ...more];
      const { code, out, err } = await runCli(args, ours.folder);
      expect([code, err]).toEqual([0, '']);
      expect(publishedObjections(format, JSON.parse(out))).toEqual([]);
      return JSON.parse(out) as T;
    };

    const [, absent] = (await document<Spdx>('spdx')).packages;
    expect(absent).toMatchObject({
      name: 'friends:cuff/left',
      filesAnalyzed: false,
      licenseDeclared: 'NOASSERTION',
    });
    expect(absent.comment).toContain('another registry, which is not at hand');
    const { pedigree } = (await document<CycloneDx>('cyclonedx')).metadata.component;
    expect(pedigree?.ancestors[0].properties?.map(each => each.name)).toContain('kinprint:files-not-listed');

    const spdx = await document<Spdx>('spdx', '--sources');
    expect(spdx.packages[1]).toMatchObject({ filesAnalyzed: true, licenseDeclared: 'CC-BY-SA-4.0' });
    const inside = spdx.relationships
      .filter(r => r.relationshipType === 'CONTAINS' && r.spdxElementId === spdx.packages[1].SPDXID)
      .map(r => r.relatedSpdxElement);
    const shell = spdx.files.find(
      file => file.fileName === './parts/shell.stl' && inside.includes(file.SPDXID),
    );
    // As git has it at the commit that recorded the letter, and not what lies there now.
    const bytes = execFileSync('git', [
      '-C',
      friends.folder,
      'show',
      `${recorded}:devices/cuff/left/parts/shell.stl`,
    ]);
    expect(shell?.checksums[1].checksumValue).toBe(createHash('sha256').update(bytes).digest('hex'));
  },
);
