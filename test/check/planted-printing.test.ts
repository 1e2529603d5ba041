import { transformMesh } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, shell, solid } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

describe('planted mistakes in printing', () => {
  const small = 'printers:\n  - id: small\n    build_volume_mm: [100, 100, 100]\n';
  const at = { file: manifest, line: 'mesh: parts/shell.stl', part: 'shell' } as const;

  it('a part too large for every printer, however it stands', async () => {
    const { report } = await expectOnly(one(shell, box(140, 4, 90), small), {
      code: 'part-too-large',
      severity: 'error',
      says: /it fits on no listed printer, however it is turned about the vertical: 'small' \(100\.00 × 100\.00 × 100\.00\)/,
      ...at,
    });
    expect(report.findings[0].remedy).toContain('Tried were x, y and z up, each turned as far as need be.');
  });

  it('a ruler that fits along the diagonal alone', async () => {
    // A strip of 4 mm lies along the diagonal of a square of 100 up to 100 √2 − 4 = 137.42 mm.
    await expectOnly(one(shell, box(137, 4, 90), small), {
      code: 'part-fits-turned',
      severity: 'note',
      says: /With z up the part fits on 'small' turned by 4[45]° about the vertical/,
      ...at,
    });
    const { report } = await check(one(shell, box(138, 4, 90), small));
    expect(report.findings.map(f => f.code)).toEqual(['part-too-large']);
    expect((await check(one(shell, box(4, 100, 100), small))).report.findings).toEqual([]);
  });

  it('a round part whose box is too large when it is turned', async () => {
    // The box of a square of 99 on its corner is 140 wide; the square itself fits when turned back by 45°.
    const diamond = transformMesh(box(99, 99, 10), [
      [Math.SQRT1_2, -Math.SQRT1_2, 0, 0],
      [Math.SQRT1_2, Math.SQRT1_2, 0, 0],
      [0, 0, 1, 0],
      [0, 0, 0, 1],
    ]);
    await expectOnly(one(shell, diamond, small), {
      code: 'part-fits-turned',
      severity: 'note',
      says: /turned by 45° about the vertical/,
      ...at,
    });
  });

  it('a part that fits lying on its side, where nothing says that it must stand', async () => {
    const both = `${small}  - id: flat\n    build_volume_mm: [150, 150, 40]\n`;
    const { report } = await expectOnly(one(shell, box(140, 4, 90), both), {
      code: 'part-fits-lying',
      severity: 'warning',
      says: /it fits on 'flat' lying on its side, with y up/,
      ...at,
    });
    expect(report.findings[0].remedy).toContain('state up: y under print');
    const printed = (up: string) => one(`${shell}    print: { up: ${up} }\n`, box(140, 4, 90), both);
    expect((await check(printed('y'))).report.findings).toEqual([]);
    const standing = await expectOnly(printed('z'), {
      code: 'part-too-large',
      severity: 'error',
      file: manifest,
      line: 'print: { up: z }',
    });
    expect(standing.report.findings[0].remedy).toContain("it fits on 'flat' lying on its side, with y up");
  });

  it('a part that was stored aslant and fits on its flat face', async () => {
    // 95 × 95 × 20 leaning by 30°: 95 cos 30° + 20 sin 30° = 92.3 wide, 95 sin 30° + 20 cos 30° = 64.8 high.
    const [c, s] = [Math.cos(Math.PI / 6), 0.5];
    const leaning = transformMesh(box(95, 95, 20), [
      [c, 0, s, 0],
      [0, 1, 0, 0],
      [-s, 0, c, 0],
      [0, 0, 0, 1],
    ]);
    const low = 'printers:\n  - id: low\n    build_volume_mm: [100, 100, 25]\n';
    await expectOnly(one(shell, leaning, low), {
      code: 'part-fits-lying',
      severity: 'warning',
      says: /it fits on 'low' lying on a flat face, with \((-?0\.50, 0\.00, -?0\.87|.*)\) down/,
      ...at,
    });
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
