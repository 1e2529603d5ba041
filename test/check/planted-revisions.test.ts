import { afterAll, describe, it } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, revision, shell } from './planted.ts';
import { expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in revisions', () => {
  it('letters out of order', async () => {
    await expectOnly(
      one(`${shell}revisions:\n${revision('B', '1')}${revision('A', '2')}`),
      { code: 'letter-order', severity: 'error', file: manifest, line: '- letter: A' },
      'changed-since',
    );
  });

  it('a letter for two contents', async () => {
    await expectOnly(
      one(`${shell}revisions:\n${revision('A', '1')}${revision('A', '2')}`),
      {
        code: 'letter-reused',
        severity: 'error',
        file: manifest,
        line: '- letter: A',
        says: /different contents/,
      },
      'changed-since',
    );
  });

  it('content that changed since the last letter', async () => {
    await expectOnly(one(`${shell}revisions:\n${revision('A', '1')}`), {
      code: 'changed-since',
      severity: 'note',
      file: manifest,
      line: '- letter: A',
      says: /since A/,
    });
  });
});
