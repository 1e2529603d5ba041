import { afterAll, describe, expect, it } from 'vitest';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, shell, solid } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in printing', () => {
  it('a part too large for every printer', async () => {
    const printers = `printers:\n  - id: small\n    build_volume_mm: [100, 100, 100]\n  - id: flat\n    build_volume_mm: [150, 150, 40]\n`;
    // 135 × 4 lies along the diagonal of 100 × 100, 140 × 4 does not; but standing on its side it fits the flat one.
    expect((await check(one(shell, box(135, 4, 90), printers))).report.findings).toEqual([]);
    const { report } = await expectOnly(one(shell, box(140, 4, 90), printers), {
      code: 'part-too-large',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
      says: /'small' \(100\.00 × 100\.00 × 100\.00\) and 'flat'/,
    });
    expect(report.findings[0].remedy).toContain("With up: y it fits on 'flat'");
    expect(
      (await check(one(`${shell}    print: { up: y }\n`, box(140, 4, 90), printers))).report.findings,
    ).toEqual([]);
  });

  it('a wall thinner than the registry asks for', async () => {
    const policy = 'policy:\n  thinnest_wall_mm: 1.2\n';
    await expectOnly(one(shell, box(20, 30, 0.8), policy), {
      code: 'wall-thin',
      severity: 'warning',
      file: manifest,
      line: 'mesh: parts/shell.stl',
      says: /0\.80 mm.*1\.20 mm/,
    });
  });

  it('a material that the registry does not list', async () => {
    const materials = 'materials:\n  - id: petg\n    density_g_cm3: 1.27\n';
    const { report } = await expectOnly(one(`${shell}    material: pteg\n`, solid, materials), {
      code: 'material-unknown',
      severity: 'warning',
      file: manifest,
      line: 'material: pteg',
    });
    expect(report.findings[0].remedy).toContain("'petg'");
  });

  it('layers too high for the nozzle', async () => {
    const printed = (print: string) =>
      one(`${shell}    print:\n      ${print}\n      layer_height_mm: 0.35\n`);
    const place = { file: manifest, line: 'layer_height_mm: 0.35' } as const;
    await expectOnly(printed('nozzle_mm: 0.4'), { code: 'layer-too-high', severity: 'warning', ...place });
    await expectOnly(printed('nozzle_mm: 0.3'), { code: 'layer-above-nozzle', severity: 'error', ...place });
    await expectOnly(printed('walls: 3'), { code: 'layer-too-high', severity: 'warning', ...place });
    expect((await check(printed('nozzle_mm: 0.6'))).report.findings).toEqual([]);
  });
});
