import { afterAll, describe, expect, it } from 'vitest';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { manifest, one, revision, shell, solid } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

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
