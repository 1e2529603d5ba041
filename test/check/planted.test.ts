import { mkdirSync, renameSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import type { Mesh } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { flipped, joined, scaled, without } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

const manifest = 'devices/cuff/left/variant.yaml';
const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const plate = plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: 1.5, sides: 64 }]);
const solid = box(20, 30, 10);

/** A registry with one variant, `left`. */
function one(lines: string, mesh: Mesh = solid, registryLines = ''): SmallRegistry {
  const registry = smallRegistry(registryLines);
  registry.variant('left', lines, { 'shell.stl': mesh });
  return registry;
}

const digest = (digit: string) => `sha256:${digit.repeat(64)}`;
const revision = (letter: string, digit: string) =>
  `  - letter: ${letter}\n    digest: ${digest(digit)}\n    date: 2026-03-14\n`;

describe('kinprint check', () => {
  it('has one line to say of a registry without mistakes', async () => {
    const { exit, report, text } = await check(one(shell));
    expect({ exit, findings: report.findings }).toEqual({ exit: 0, findings: [] });
    expect(text).toBe('No findings in 1 variant with 1 part.\n');
  });

  it('shows the line, a caret, what to do, and the total', async () => {
    const { text, exit } = await check(
      one(`${shell}    interfaces:\n      - { id: pivot, kind: bore, nominal_mm: 3.2 }\n`, plate),
    );
    expect(exit).toBe(1);
    expect(text).toBe(
      `cuff/left
  error  interface-differs  part shell
    devices/cuff/left/variant.yaml:10:46
    10 |       - { id: pivot, kind: bore, nominal_mm: 3.2 }
       |                                              ^
    The bore 'pivot' is declared 3.20 mm ± 0.1 and measured 3.00 mm across the
    flats (3.00 through the corners), at (10.0, 10.0, 2.5) mm.
    Correct the manifest or the mesh, or state the tolerance_mm that the
    interface bears.

1 error in 1 variant with 1 part.
`,
    );
  });

  it('fails on warnings when asked to', async () => {
    const registry = one(shell);
    registry.write('devices/cuff/left/parts/spare.stl', solid);
    expect((await check(registry)).exit).toBe(0);
    expect((await check(registry, '--fail-on', 'warning')).exit).toBe(1);
  });

  it('checks the variants that are named, and suggests names for unknown ones', async () => {
    const registry = one(shell);
    registry.variant('right', shell);
    const { report, exit } = await check(registry, 'cuff/left');
    expect({ exit, findings: report.findings, variants: report.variants }).toEqual({
      exit: 0,
      findings: [],
      variants: 1,
    });
    expect((await check(registry)).exit).toBe(1);
    const { code, err } = await runCli(['check', '--no-cache', 'cuff/lef'], registry.folder);
    expect(code).toBe(2);
    expect(err).toContain("Did you mean 'cuff/left'");
    expect((await runCli(['check', '--shard', '3/2'], registry.folder)).code).toBe(2);
    expect((await runCli(['check', '--shard', '1/2', 'cuff/left'], registry.folder)).code).toBe(2);
  });
});

describe('planted mistakes in documents and files', () => {
  it('a key that the schema does not know', async () => {
    const registry = one(`${shell}    quantiti: 2\n`);
    await expectOnly(registry, {
      code: 'unknown-key',
      severity: 'error',
      file: manifest,
      line: 'quantiti: 2',
    });
  });

  it('a mesh that is not there', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell);
    await expectOnly(registry, {
      code: 'file-missing',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
      part: 'shell',
    });
  });

  it('a source model that is not there', async () => {
    const registry = one(`${shell}    source: [source/shell.step]\n`);
    await expectOnly(registry, {
      code: 'file-missing',
      severity: 'error',
      file: manifest,
      line: 'source: [source/shell.step]',
    });
  });

  it('a name written in another case', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell, { 'Shell.stl': solid });
    await expectOnly(registry, {
      code: 'file-case',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
      says: /parts\/Shell\.stl/,
    });
  });

  it('a file that no part names', async () => {
    const registry = one(shell);
    registry.write('devices/cuff/left/parts/spare.stl', solid);
    await expectOnly(registry, {
      code: 'file-unlisted',
      severity: 'warning',
      file: 'devices/cuff/left/parts/spare.stl',
      line: null,
    });
  });

  it('a link instead of a file', async () => {
    const registry = one(shell);
    const parts = path.join(registry.folder, 'devices/cuff/left/parts');
    mkdirSync(path.join(registry.folder, 'elsewhere'));
    renameSync(path.join(parts, 'shell.stl'), path.join(registry.folder, 'elsewhere/shell.stl'));
    symlinkSync('../../../../elsewhere/shell.stl', path.join(parts, 'shell.stl'));
    await expectOnly(registry, {
      code: 'file-not-regular',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
    });
  });

  it('a large file that was not fetched', async () => {
    const registry = smallRegistry();
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${'a'.repeat(64)}\nsize 684\n`;
    registry.variant('left', shell, { 'shell.stl': pointer });
    await expectOnly(registry, {
      code: 'file-not-fetched',
      severity: 'warning',
      file: manifest,
      line: 'mesh: parts/shell.stl',
    });
  });

  it('a large file whose local copy is damaged', async () => {
    const registry = smallRegistry();
    const oid = 'a'.repeat(64);
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${oid}\nsize 684\n`;
    registry.variant('left', shell, { 'shell.stl': pointer });
    gitIn(registry.folder, 'init', '-q');
    registry.write(`.git/lfs/objects/aa/aa/${oid}`, 'other bytes');
    await expectOnly(registry, {
      code: 'file-unreadable',
      severity: 'error',
      file: manifest,
      line: 'mesh: parts/shell.stl',
    });
  });

  it('names that some file systems cannot keep, or keep only one of', async () => {
    const registry = one(shell);
    registry.write('devices/cuff/left/source/aux.step', 'x');
    await expectOnly(registry, {
      code: 'file-name-unsafe',
      severity: 'warning',
      file: 'devices/cuff/left/source/aux.step',
      line: null,
    });
    const clash = one(shell);
    clash.write('devices/cuff/left/source/model.step', 'x');
    clash.write('devices/cuff/left/source/Model.step', 'x');
    await expectOnly(clash, {
      code: 'file-names-clash',
      severity: 'error',
      file: 'devices/cuff/left/source/model.step',
      line: null,
    });
  });
});

describe('planted mistakes in meshes', () => {
  const at = { file: manifest, line: 'mesh: parts/shell.stl', part: 'shell' } as const;

  it('bytes that are no mesh', async () => {
    const registry = smallRegistry();
    registry.variant('left', shell, { 'shell.stl': new Uint8Array(100) });
    await expectOnly(registry, { code: 'mesh-unreadable', severity: 'error', ...at });
  });

  it('a hole in the surface', async () => {
    await expectOnly(one(shell, without(solid, 0)), {
      code: 'mesh-no-volume',
      severity: 'error',
      says: /First at/,
      ...at,
    });
  });

  it('faces that point inward', async () => {
    await expectOnly(
      one(shell, flipped(solid)),
      { code: 'mesh-inside-out', severity: 'error', ...at },
      'mesh-flaws',
    );
  });

  it('bodies that cross each other', async () => {
    const crossing = joined(solid, box(20, 30, 10, [5, 5, 5]));
    await expectOnly(one(shell, crossing), { code: 'mesh-crosses-itself', severity: 'warning', ...at });
  });

  it('a face without area', async () => {
    const { positions, triangles } = solid;
    const degenerate = { positions, triangles: Uint32Array.from([...triangles, 0, 1, 1]) };
    await expectOnly(one(shell, degenerate), { code: 'mesh-flaws', severity: 'warning', ...at });
  });

  it('a size that only another unit explains', async () => {
    await expectOnly(one(shell, scaled(solid, 0.001)), {
      code: 'mesh-unit-doubtful',
      severity: 'warning',
      ...at,
    });
    const { report } = await check(one(`${shell}    unit: meter\n`, scaled(solid, 0.001)));
    expect(report.findings).toEqual([]);
  });
});

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

describe('planted mistakes in names and ranges', () => {
  it('an id that is given twice', async () => {
    const registry = one(`${shell}  - id: shell\n    mesh: parts/shell.stl\n`);
    const checked = await check(registry);
    expect(checked.report.findings).toMatchObject([
      { code: 'id-repeated', severity: 'error', line: 9, column: 9 },
    ]);
  });

  it('a placement of an unknown part', async () => {
    await expectOnly(one(`${shell}assembly:\n  - part: shel\n`), {
      code: 'placement-unknown',
      severity: 'error',
      file: manifest,
      line: '- part: shel',
    });
  });

  it('a range of sizes upside down, by another measure than the device', async () => {
    const fit = 'fit:\n  body_measure: hand-breadth\n  base_mm: 60\n  scales: { least: 1.2, most: 0.9 }\n';
    await expectOnly(one(shell + fit), {
      code: 'fit-upside-down',
      severity: 'error',
      file: manifest,
      line: 'scales: { least: 1.2, most: 0.9 }',
    });
    const other = one(shell + fit.replace('1.2', '0.8'));
    other.write(
      'devices/cuff/device.yaml',
      'kinprint: device/1\ntitle: Cuff\npurpose: Holds a spoon.\nbody_measure: wrist-girth\n',
    );
    await expectOnly(other, {
      code: 'fit-measure-differs',
      severity: 'warning',
      file: manifest,
      line: 'body_measure: hand-breadth',
    });
  });

  it('a device without variants', async () => {
    await expectOnly(smallRegistry(), {
      code: 'device-empty',
      severity: 'warning',
      file: 'devices/cuff/device.yaml',
      line: 'title: Utensil cuff',
    });
  });

  it('two variants with the same files', async () => {
    const registry = one(shell);
    registry.variant('right', shell, { 'shell.stl': solid });
    await expectOnly(registry, {
      code: 'same-content',
      severity: 'warning',
      file: 'devices/cuff/right/variant.yaml',
      line: 'title: Cuff',
      says: /'cuff\/left'/,
    });
  });

  it('the same files where copies are declared, and where a variant was only begun', async () => {
    const registry = one(shell);
    const letter = `revisions:\n${revision('A', '1')}`;
    const from = (variant: string, relation: string) =>
      `${shell}derivations:\n  - { from: cuff/${variant}@A, relation: ${relation} }\n${letter}`;
    registry.variant('left', shell + letter, { 'shell.stl': solid });
    registry.variant('again', from('once-more', 'copy'), { 'shell.stl': solid });
    registry.variant('once-more', from('left', 'copy'), { 'shell.stl': solid });
    const before = await check(registry);
    expect(before.report.findings.filter(f => f.code === 'same-content')).toEqual([]);
    registry.variant('begun', from('left', 'remix'), { 'shell.stl': solid });
    const { report } = await check(registry);
    const [finding, ...more] = report.findings.filter(f => f.code === 'same-content');
    expect(more).toEqual([]);
    expect(finding.variant).toBe('cuff/begun');
    expect(finding.text).toBe(
      "All files are the same as those of 'cuff/again', 'cuff/left' and 'cuff/once-more'.",
    );
  });

  it('a mark that nobody settled', async () => {
    await expectOnly(one(`${shell}    unsettled: left or right hand?\n`), {
      code: 'unsettled',
      severity: 'note',
      file: manifest,
      line: 'unsettled: left or right hand?',
      says: /left or right hand\?/,
    });
  });
});

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
