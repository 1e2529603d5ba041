import { afterAll, describe, expect, it } from 'vitest';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, plate, shell } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in interfaces', () => {
  const withInterface = (text: string) => `${shell}    interfaces:\n      - ${text}\n`;

  it('a bore of another size (declared 3.2, measured 3.0)', async () => {
    const line = '- { id: pivot, kind: bore, nominal_mm: 3.2, at_mm: [10, 10, 0], axis: [0, 0, 1] }';
    await expectOnly(one(withInterface(line.slice(2)), plate), {
      code: 'interface-differs',
      severity: 'error',
      file: manifest,
      line,
      part: 'shell',
      says: /declared 3\.20 mm ± 0\.1 and measured 3\.00 mm across the flats \(3\.00 through the corners\)/,
    });
    const right = await check(one(withInterface('{ id: pivot, kind: bore, nominal_mm: 3 }'), plate));
    expect(right.report.findings).toEqual([]);
  });

  it('a bore that coarse facets make too narrow', async () => {
    const coarse = plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 1.6, sides: 8 }]);
    await expectOnly(one(withInterface('{ id: pivot, kind: bore, nominal_mm: 3.2 }'), coarse), {
      code: 'interface-facets',
      severity: 'warning',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 3.2 }',
    });
  });

  it('a bore that is not there', async () => {
    await expectOnly(one(withInterface('{ id: pivot, kind: bore, nominal_mm: 3 }')), {
      code: 'interface-missing',
      severity: 'error',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 3 }',
    });
  });

  it('a slot that cannot be judged', async () => {
    await expectOnly(one(withInterface('{ id: strap, kind: slot, nominal_mm: 3 }')), {
      code: 'interface-unchecked',
      severity: 'note',
      file: manifest,
      line: '- { id: strap, kind: slot, nominal_mm: 3 }',
    });
  });

  it('a mate that does not exist', async () => {
    const line = '- { id: pivot, kind: bore, nominal_mm: 3, mates: hardware/scrw }';
    const lines = `${withInterface(line.slice(2))}hardware:\n  - { id: screw, title: Screw, quantity: 1 }\n`;
    const { report } = await expectOnly(one(lines, plate), {
      code: 'mate-unknown',
      severity: 'error',
      file: manifest,
      line,
    });
    expect(report.findings[0].remedy).toContain("'hardware/screw'");
  });
});
