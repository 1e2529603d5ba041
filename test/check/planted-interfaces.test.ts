import { afterAll, describe, expect, it } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
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

  it('the fortieth of forty planes: a slot and a face far smaller than the rest', async () => {
    // A comb: 20 teeth of different heights on a plate make more large planes than are listed for a mesh. The last
    // groove is 3 mm wide, from x = 117 to x = 120, between teeth that reach up to z = 8 and 10.
    const teeth = Array.from({ length: 21 }, (_, k) => box(3, 30, 5 + 2 * (20 - k), [6 * k, 0, 3]));
    const comb = joined(box(123, 30, 3), ...teeth);
    const lines = (slot: number, z: number) => `${shell}    interfaces:
      - { id: groove, kind: slot, nominal_mm: ${slot}, at_mm: [118.5, 15, 6] }
      - { id: top, kind: face, at_mm: [121.5, 15, ${z}], axis: [0, 0, 1] }
`;
    const made = (slot: number, z: number) => one(lines(slot, z), comb);
    const ignored = ['mesh-crosses-itself', 'mesh-flaws'];
    const told = async (slot: number, z: number) =>
      (await check(made(slot, z))).report.findings.filter(f => !ignored.includes(f.code));
    expect(await told(3, 8)).toEqual([]);
    expect((await told(3.5, 8.4)).map(f => [f.code, f.text])).toEqual([
      [
        'interface-differs',
        expect.stringContaining("The slot 'groove' is declared 3.50 mm ± 0.1 and measured 3.00 mm"),
      ],
      ['interface-differs', expect.stringContaining("The face 'top' lies 0.40 mm off its declared place.")],
    ]);
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
