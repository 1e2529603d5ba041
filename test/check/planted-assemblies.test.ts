import { afterAll, describe, expect, it } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box, prism } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

/** A plate of 60 × 50 × 5 with a bore of 6.8 at (25, 25), and a pin of 6 × 30. */
function placed(assembly: string, bore = ', mates: axle/shaft', pin = '', size = 6.8): SmallRegistry {
  const registry = smallRegistry();
  registry.variant(
    'left',
    `parts:
  - id: plate
    mesh: parts/plate.stl
    interfaces:
      - { id: pivot, kind: bore, nominal_mm: ${size}${bore} }
  - id: axle
    mesh: parts/axle.stl
    interfaces:
      - { id: shaft, kind: pin, nominal_mm: 6${pin} }
assembly:
${assembly}`,
    {
      'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: size / 2, sides: 96 }]),
      'axle.stl': prism(96, 3, 30),
    },
  );
  return registry;
}

const plate = '  - part: plate\n';

describe('planted mistakes in assemblies', () => {
  it('none where the pin stands in its bore', async () => {
    for (const turned of ['', ', rotate: { axis: [0, 0, 1], degrees: 30 }'])
      expect(
        (await check(placed(`${plate}  - { part: axle, translate_mm: [25, 25, -10]${turned} }\n`))).report
          .findings,
      ).toEqual([]);
  });

  it('two parts in one place', async () => {
    // The pin goes through 5 mm of solid plate: 5 · 96/2 · 3² · sin(2π/96).
    await expectOnly(placed(`${plate}  - { part: axle, translate_mm: [45, 25, -10] }\n`, ''), {
      code: 'parts-interfere',
      severity: 'warning',
      file: manifest,
      line: '- { part: axle, translate_mm: [45, 25, -10] }',
      part: 'axle',
      says: /'plate' and 'axle' claim the same space .*: 141\.27 mm³, up to .* at \(45\.0, 25\.0, 2\.5\) mm/,
    });
  });

  it('a press fit that is declared, and one that is not', async () => {
    const at = `${plate}  - { part: axle, translate_mm: [25, 25, -10] }\n`;
    const tight = (clearance: string) => placed(at, `, mates: axle/shaft${clearance}`, '', 5.7);
    const codes = async (registry: SmallRegistry) =>
      (await check(registry)).report.findings
        .map(({ code }) => code)
        .filter(code => code !== 'clearance-differs');
    expect(await codes(tight(', clearance: press'))).not.toContain('parts-interfere');
    expect(await codes(tight(''))).toContain('parts-interfere');
  });

  it('a pin beside its bore, whichever of the two names the other', async () => {
    const away = `${plate}  - { part: axle, translate_mm: [25, 70, -10] }\n`;
    await expectOnly(placed(away), {
      code: 'mates-out-of-line',
      severity: 'warning',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 6.8, mates: axle/shaft }',
      part: 'plate',
      says: /the bore 'plate\/pivot' and the pin 'axle\/shaft' are not in line: their axes are 45\.00 mm apart and 0\.0° askew/,
    });
    await expectOnly(placed(away, '', ', mates: plate/pivot'), {
      code: 'mates-out-of-line',
      severity: 'warning',
      file: manifest,
      line: '- { id: shaft, kind: pin, nominal_mm: 6, mates: plate/pivot }',
    });
    await expectOnly(placed(`${plate}  - { part: axle, translate_mm: [25, 25, 6] }\n`), {
      code: 'mates-out-of-line',
      severity: 'warning',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 6.8, mates: axle/shaft }',
      says: /share no length of their axes, which end 1\.00 mm apart/,
    });
  });

  it('a tongue beside its slot, and faces that do not meet', async () => {
    const placed = (y: number, z: number, clearance = '') => {
      const registry = smallRegistry();
      registry.variant(
        'left',
        `parts:
  - id: tray
    mesh: parts/tray.stl
    interfaces:
      - { id: groove, kind: slot, nominal_mm: 4.8, at_mm: [20, 15, 8] }
      - { id: rim, kind: face, at_mm: [20, 6, 12], axis: [0, 0, 1] }
  - id: lid
    mesh: parts/lid.stl
    interfaces:
      - { id: rib, kind: tongue, nominal_mm: 4, at_mm: [20, 0, -3], mates: tray/groove, clearance: sliding }
      - { id: under, kind: face, at_mm: [20, 8, 0], axis: [0, 0, -1], mates: tray/rim${clearance} }
assembly:
  - part: tray
  - { part: lid, translate_mm: [0, ${y}, ${z}] }
`,
        {
          'tray.stl': joined(box(40, 12.6, 12), box(40, 12.6, 12, [0, 17.4, 0])),
          'lid.stl': joined(box(40, 30, 3, [0, -15, 0]), box(40, 4, 6, [0, -2, -6])),
        },
      );
      return registry;
    };
    // The bodies of the lid touch, and the moved tongue cuts into its tray.
    const ofMeshes = ['mesh-crosses-itself', 'parts-interfere'];
    const findings = async (registry: SmallRegistry) =>
      (await check(registry)).report.findings.filter(({ code }) => !ofMeshes.includes(code));
    expect(await findings(placed(15, 12))).toEqual([]);
    await expectOnly(
      placed(16, 12),
      {
        code: 'mates-out-of-line',
        severity: 'warning',
        file: manifest,
        line: '- { id: rib, kind: tongue, nominal_mm: 4, at_mm: [20, 0, -3], mates: tray/groove, clearance: sliding }',
        part: 'tray',
        says: /the slot 'tray\/groove' and the tongue 'lid\/rib' are not in line: their middles are 1\.00 mm apart/,
      },
      ...ofMeshes,
    );
    await expectOnly(
      placed(15, 12.7),
      {
        code: 'clearance-differs',
        severity: 'warning',
        file: manifest,
        line: '- { id: under, kind: face, at_mm: [20, 8, 0], axis: [0, 0, -1], mates: tray/rim }',
        part: 'tray',
        says: /faces 'tray\/rim' and 'lid\/under' are 0\.70 mm apart\. They mate: -0\.20 to 0\.20 mm/,
      },
      ...ofMeshes,
    );
    expect((await findings(placed(15, 12.4, ', clearance: sliding'))).map(({ code }) => code)).toEqual([]);
    expect((await findings(placed(15, 12.1, ', clearance: sliding'))).map(({ code }) => code)).toEqual([
      'clearance-differs',
    ]);
  });

  it('bores of one screw that are not in line, of one screw and of several', async () => {
    const stack = (quantity: number) => {
      const registry = smallRegistry();
      registry.variant(
        'left',
        `parts:
  - { id: base, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, mates: hardware/screw }] }
  - { id: lid, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, mates: hardware/screw }] }
hardware:
  - { id: screw, title: Screw, quantity: ${quantity}, size: M3 × 16 }
assembly:
  - { part: base }
  - { part: lid, translate_mm: [1, 0, 5] }
`,
        { 'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: 1.7, sides: 96 }]) },
      );
      return registry;
    };
    await expectOnly(stack(1), {
      code: 'mates-out-of-line',
      severity: 'warning',
      file: manifest,
      line: '- { id: base, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, mates: hardware/screw }] }',
      part: 'base',
      says: /the bore 'lid\/hole' for the same 'screw' are not in line: their axes are 1\.00 mm apart/,
    });
    // Two screws would do for two bores, but these two miss each other by less than their width.
    await expectOnly(stack(2), {
      code: 'mates-out-of-line',
      severity: 'warning',
      file: manifest,
      line: '- { id: base, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, mates: hardware/screw }] }',
      says: /for one 'screw' are not in line/,
    });
  });

  it('fewer screws than rows of bores, and more than bores', async () => {
    const pattern = (quantity: number) => {
      const registry = smallRegistry();
      const holes = [
        [10, 10],
        [30, 40],
        [50, 10],
      ].map(([x, y]) => ({ x, y, r: 1.7, sides: 96 }));
      registry.variant(
        'left',
        `parts:
  - { id: base, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, count: 3, mates: hardware/screw }] }
  - { id: lid, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, count: 3, mates: hardware/screw }] }
hardware:
  - id: screw
    title: Screw
    quantity: ${quantity}
    size: M3 × 16
assembly:
  - { part: base }
  - { part: lid, translate_mm: [0, 0, 5] }
`,
        { 'plate.stl': plateWithHoles(60, 50, 5, holes) },
      );
      return registry;
    };
    for (const fine of [3, 6]) expect((await check(pattern(fine))).report.findings).toEqual([]);
    await expectOnly(pattern(2), {
      code: 'hardware-short',
      severity: 'warning',
      file: manifest,
      line: 'quantity: 2',
      says: /need 3 of it, one for each row of bores in line; 2 are to be bought/,
    });
    await expectOnly(pattern(7), {
      code: 'hardware-to-spare',
      severity: 'note',
      file: manifest,
      line: 'quantity: 7',
      says: /^7 of 'screw' are to be bought, and 6 bores take it/,
    });
  });

  it('so many copies in one place that nobody can look at all pairs', async () => {
    const registry = smallRegistry();
    const copies = '  - part: block\n'.repeat(202);
    registry.variant('left', `parts:\n  - { id: block, mesh: parts/block.stl }\nassembly:\n${copies}`, {
      'block.stl': box(10, 10, 10),
    });
    await expectOnly(registry, {
      code: 'assembly-unchecked',
      severity: 'note',
      file: manifest,
      line: 'assembly:',
      says: /^20301 pairs/,
    });
  });
});
