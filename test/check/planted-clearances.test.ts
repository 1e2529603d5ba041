import { afterAll, describe, expect, it } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { box, prism } from '../../packages/mesh/src/testing/shapes.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

const says = (pattern: RegExp): string => expect.stringMatching(pattern) as string;

/** A plate with one round bore, and a round pin. */
function pair(
  bore_mm: number,
  pin_mm: number,
  { bore = '', pin = '', hardware = '' }: { bore?: string; pin?: string; hardware?: string },
): SmallRegistry {
  const registry = smallRegistry();
  registry.variant(
    'left',
    `parts:
  - id: shell
    mesh: parts/shell.stl
    interfaces:
      - { id: pivot, kind: bore, nominal_mm: ${bore_mm}${bore} }
  - id: axle
    mesh: parts/axle.stl
    interfaces:
      - { id: shaft, kind: pin, nominal_mm: ${pin_mm}${pin} }
${hardware}`,
    {
      'shell.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: bore_mm / 2, sides: 96 }]),
      'axle.stl': prism(96, pin_mm / 2, 30),
    },
  );
  return registry;
}

describe('planted mistakes in clearances', () => {
  it('a pin that does not go into its bore, whichever of the two says so', async () => {
    await expectOnly(pair(3, 3.2, { bore: ', mates: axle/shaft' }), {
      code: 'clearance-interference',
      severity: 'error',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 3, mates: axle/shaft }',
      part: 'shell',
      says: /clearance is -0\.20 mm on the diameter/,
    });
    const other = await check(pair(3, 3.2, { pin: ', mates: shell/pivot' }));
    expect(other.report.findings.map(({ code }) => code)).toEqual(['clearance-interference']);
  });

  it('a hinge pin that was to turn freely and is tight', async () => {
    // 0.4 mm on the diameter; sliding asks for twice 0.3 to 0.5 of each side.
    await expectOnly(pair(6.4, 6, { bore: ', mates: axle/shaft, clearance: sliding' }), {
      code: 'clearance-differs',
      severity: 'warning',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 6.4, mates: axle/shaft, clearance: sliding }',
      says: /tighter than declared: the clearance is 0\.40 mm .* 0\.20 to 0\.60 mm .*0\.60 to 1\.00 mm/s,
    });
    for (const bore of [6.6, 7])
      expect(
        (await check(pair(bore, 6, { bore: ', mates: axle/shaft, clearance: sliding' }))).report.findings,
      ).toEqual([]);
  });

  it('a screw hole that was scaled along with the part', async () => {
    const hardware =
      'hardware:\n  - { id: screw, title: Screw, quantity: 1, standard: ISO 4762, size: M3 × 16 }\n';
    // ISO 273: 3.4 mm is the medium hole for M3; at 120 % it is 4.08 mm, at 85 % 2.89 mm.
    const at = (bore: number, clearance: string) =>
      pair(bore, 5, { bore: `, mates: hardware/screw${clearance}`, hardware });
    const loose = await check(at(4.08, ', clearance: medium'));
    expect(loose.report.findings).toMatchObject([{ code: 'clearance-differs', severity: 'warning' }]);
    expect(loose.report.findings[0].text).toMatch(
      /looser than declared.*ISO 273:1979, medium: 3.4 mm for M3/,
    );
    const tight = await check(at(2.89, ', clearance: medium'));
    expect(tight.report.findings).toMatchObject([{ code: 'clearance-interference', severity: 'error' }]);
    // A hole that the screw cuts its thread into is smaller than the screw; undeclared, it may be one.
    for (const fine of [at(3.4, ', clearance: medium'), at(2.5, ', clearance: thread'), at(2.5, '')])
      expect((await check(fine)).report.findings).toEqual([]);
  });

  it('a tongue that does not go into its slot, or goes tighter than declared', async () => {
    const slot = (width: number, tongue: number, clearance = '') => {
      const registry = smallRegistry();
      registry.variant(
        'left',
        `parts:
  - id: tray
    mesh: parts/tray.stl
    interfaces:
      - { id: groove, kind: slot, nominal_mm: ${width}, at_mm: [10, ${10 + width / 2}, 5], mates: lid/rib${clearance} }
  - id: lid
    mesh: parts/lid.stl
    interfaces:
      - { id: rib, kind: tongue, nominal_mm: ${tongue} }
`,
        {
          'tray.stl': joined(box(20, 10, 10), box(20, 10, 10, [0, 10 + width, 0])),
          'lid.stl': box(20, tongue, 9),
        },
      );
      return registry;
    };
    await expectOnly(slot(4, 4.2), {
      code: 'clearance-interference',
      severity: 'error',
      file: manifest,
      line: '- { id: groove, kind: slot, nominal_mm: 4, at_mm: [10, 12, 5], mates: lid/rib }',
      part: 'tray',
      says: /The slot 'groove' of 4\.00 mm and the tongue 'lid\/rib' of 4\.20 mm .* is -0\.20 mm on the width/,
    });
    await expectOnly(slot(4.4, 4, ', clearance: sliding'), {
      code: 'clearance-differs',
      severity: 'warning',
      file: manifest,
      line: '- { id: groove, kind: slot, nominal_mm: 4.4, at_mm: [10, 12.2, 5], mates: lid/rib, clearance: sliding }',
    });
    expect((await check(slot(4.8, 4, ', clearance: sliding'))).report.findings).toEqual([]);
  });

  it('a hole in which a thread takes no hold, or into which no screw goes', async () => {
    const screw = 'hardware:\n  - { id: screw, title: Screw, quantity: 1, size: M3 × 16 }\n';
    const at = (bore: number, hardware = screw) =>
      pair(bore, 5, { bore: ', mates: hardware/screw, clearance: thread', hardware });
    // ISO 724: D1 = 2.459 and D2 = 2.675 mm for M3; (3 − 2.8) / (3 − 2.459) = 37 %.
    await expectOnly(at(2.8), {
      code: 'clearance-differs',
      severity: 'warning',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 2.8, mates: hardware/screw, clearance: thread }',
      part: 'shell',
      says: /too wide for the thread to take hold \(ISO 261 and ISO 724 for M3: .* 2\.39 to 2\.68 mm\); 37 % of/,
    });
    expect((await check(at(3.4))).report.findings).toMatchObject([
      { text: says(/; 0 % of the thread's height/) },
    ]);
    expect((await check(at(2.2))).report.findings).toMatchObject([
      { code: 'clearance-differs', text: says(/narrower than the core of the screw/) },
    ]);
    for (const fine of [2.459, 2.5, 2.675]) expect((await check(at(fine))).report.findings).toEqual([]);
  });

  it('an insert, whose outside is stated, in a hole as wide as it is', async () => {
    const insert =
      'hardware:\n  - { id: insert, title: Threaded insert, quantity: 1, size: M3 × 5, across_mm: 4.6 }\n';
    const at = (bore: number, clearance: string) =>
      pair(bore, 3, { bore: `, mates: hardware/insert, clearance: ${clearance}`, hardware: insert });
    expect((await check(at(4.7, 'thread'))).report.findings).toMatchObject([
      {
        code: 'clearance-differs',
        text: says(/of 4\.60 mm: the hole is too wide for the thread to take hold\./),
      },
    ]);
    expect((await check(at(4.1, 'thread'))).report.findings).toEqual([]);
    expect((await check(at(4.9, 'press'))).report.findings).toEqual([]);
  });

  it('a fit of ISO 286 beyond the table', async () => {
    await expectOnly(pair(36, 35, { bore: ', mates: axle/shaft, clearance: H7/g6' }), {
      code: 'clearance-unknown',
      severity: 'note',
      file: manifest,
      line: '- { id: pivot, kind: bore, nominal_mm: 36, mates: axle/shaft, clearance: H7/g6 }',
    });
  });

  it('a class of clearance that there is none', async () => {
    const { report } = await check(pair(6.4, 6, { bore: ', mates: axle/shaft, clearance: slidng' }));
    expect(report.findings[0].text).toContain("Did you mean 'sliding'?");
  });
});
