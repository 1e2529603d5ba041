import { afterAll, describe, expect, it } from 'vitest';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, plate, shell, solid } from './planted.ts';
import { check } from './support.ts';

afterAll(removeTemporaryFolders);

const codes = async (registry: SmallRegistry) =>
  (await check(registry)).report.findings.map(f => f.code).sort();

describe('a document with several mistakes', () => {
  it('is told with mistakes of every kind at once: schema, license, references, files, meshes', async () => {
    const registry = smallRegistry();
    registry.variant(
      'left',
      `quantiti: 2
parts:
  - id: strap
    mesh: parts/strap.stl
    quantity: none
    license: CC-BY-4
  - id: shell
    mesh: parts/shell.stl
    interfaces:
      - { id: pivot, kind: bore, nominal_mm: 3.2 }
  - id: shell
    mesh: parts/spare.stl
derivations:
  - { from: cuff/other@A, relation: remix }
`,
      { 'shell.stl': plate, 'strap.stl': solid },
    );
    expect(await codes(registry)).toEqual([
      'derivation-unknown',
      'file-missing',
      'id-repeated',
      'interface-differs',
      'license-wrong',
      'unknown-key',
      'wrong-type',
    ]);
  });

  it('is told with places of the document, not of what was left of it', async () => {
    const lines = `parts:
  - id: Not An Id
    mesh: parts/shell.stl
  - id: strap
    mesh: parts/strap.stl
    license: CC-BY-4
`;
    const registry = one(lines);
    registry.write('devices/cuff/left/parts/strap.stl', plateWithHoles(40, 20, 5, []));
    const { report } = await check(registry);
    const wrong = report.findings.find(f => f.code === 'license-wrong');
    expect(wrong).toMatchObject({ file: manifest, part: 'strap', source: '    license: CC-BY-4' });
  });

  it('is not told that something is missing which it may well name', async () => {
    const registry = one(`parts:
  - idd: shell
    mesh: parts/shell.stl
  - id: strap
    mesh: parts/strap.stl
    interfaces:
      - { id: pin, kind: bore, nominal_mm: 3, mates: shell/pivot }
assembly:
  - part: shell
`);
    registry.write('devices/cuff/left/parts/strap.stl', plate);
    expect(await codes(registry)).toEqual(['unknown-key']);
  });

  it('holds for registry.yaml, too', async () => {
    const registry = one(
      `${shell}    material: pla\n`,
      solid,
      'license: CC-BY-4\nmaterials:\n  - id: petg\n    density_g_cm3: heavy\nprinterz: []\n',
    );
    // Whether pla is listed cannot be told as long as one of the materials cannot be read.
    expect(await codes(registry)).toEqual(['license-wrong', 'unknown-key', 'wrong-type']);
  });
});
