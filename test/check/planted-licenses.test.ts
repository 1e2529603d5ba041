import { afterAll, describe, expect, it } from 'vitest';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, shell, solid } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in licenses', () => {
  it('an expression that is none', async () => {
    const registry = one(`${shell}    license: CC-BY-4\n`);
    await expectOnly(registry, {
      code: 'license-wrong',
      severity: 'error',
      file: manifest,
      line: 'license: CC-BY-4',
      part: 'shell',
    });
  });

  it('no license anywhere', async () => {
    const bare = (registryLines: string) => {
      const registry = smallRegistry(registryLines);
      registry.variant('left', shell, { 'shell.stl': solid });
      registry.write(manifest, `kinprint: variant/1\ntitle: Cuff\n${shell}`);
      return registry;
    };
    await expectOnly(bare(''), {
      code: 'license-missing',
      severity: 'warning',
      file: manifest,
      line: 'title: Cuff',
      says: /all rights are reserved/,
    });
    expect((await check(bare('license: CC0-1.0\n'))).report.findings).toEqual([]);
  });
});
