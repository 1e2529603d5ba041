import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { RegistryAudit } from '@kinprint/registry';
import { afterAll, describe, expect, it } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { mapped, motion, scaling } from '../../tools/corpus/transform.ts';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { recordByHand } from '../check/support.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

afterAll(removeTemporaryFolders);

/** A blind hole keeps it from being its own mirror image. */
const plate = (scale: number, radius: number) =>
  plateWithHoles(40 * scale, 20 * scale, 5 * scale, [
    { x: 8 * scale, y: 6 * scale, r: radius, sides: 32 },
    { x: 19 * scale, y: 14 * scale, r: 2 * scale, sides: 32, depth: 2 * scale },
    { x: 30 * scale, y: 13 * scale, r: radius, sides: 32 },
  ]);
const plain = plate(1, 1.5);
const nd = 'CC-BY-ND-4.0';

const manifest = (license: string, names: readonly string[], derivation = '', hold = false): string =>
  [
    'kinprint: variant/1',
    'title: Cuff',
    `license: ${license}`,
    'authors:',
    ...names.map(name => `  - name: ${name}`),
    ...(derivation === ''
      ? []
      : ['derivations:', '  - from: cuff/left@A', `    relation: ${derivation}`, '    changes: Made wider.']),
    'parts:',
    '  - id: shell',
    '    mesh: parts/shell.stl',
    ...(hold
      ? ['    interfaces:', '      - { id: bore, kind: bore, nominal_mm: 3, count: 2, scale: hold }']
      : []),
    '',
  ].join('\n');

async function audited(registry: SmallRegistry, ...args: string[]): Promise<RegistryAudit> {
  const { out, err } = await runCli(['audit', '--json', '--no-cache', ...args], registry.folder);
  expect(err).toBe('');
  const report = JSON.parse(out) as RegistryAudit;
  expect(objections('audit', report)).toEqual([]);
  return report;
}

const told = (report: RegistryAudit): string[] =>
  report.works.flatMap(({ findings }) => findings.map(f => `${f.work} ${f.severity} ${f.code}`)).sort();

/** `left` recorded as A under no-derivatives terms, and `right` that came from it. */
async function derived(relation: string, mesh: typeof plain, hold = false, registryLines = '') {
  const registry = smallRegistry(registryLines);
  registry.write('devices/cuff/left/parts/shell.stl', plain);
  registry.write('devices/cuff/left/variant.yaml', manifest(nd, ['Robin Sample']));
  await recordByHand(registry.folder, 'cuff/left', 'A');
  registry.write('devices/cuff/right/parts/shell.stl', mesh);
  registry.write(
    'devices/cuff/right/variant.yaml',
    manifest(nd, ['Robin Sample', 'Kim Example'], relation, hold),
  );
  return registry;
}

describe('what became of a no-derivatives work, by its mesh', () => {
  const carried = mapped(plain, motion([1, 2, 3], 40, [50, -20, 10]));
  const mirror = mapped(plain, scaling(-1, 1, 1));
  const free = 'policy:\n  licenses:\n    rescale_is_adaptation: false\n    mirror_is_adaptation: false\n';
  it.each([
    [
      'a remix that is the same surface elsewhere is a copy',
      'remix',
      carried,
      false,
      '',
      ['note unchanged-copy'],
    ],
    ['a plain mirror image is a question', 'mirror', mirror, false, '', ['ask ask-a-person']],
    ['a plain mirror image that policy calls a copy', 'mirror', mirror, false, free, []],
    ['a plain rescaling is a question', 'rescale', plate(1.2, 1.8), true, '', ['ask ask-a-person']],
    ['a plain rescaling that policy calls a copy', 'rescale', plate(1.2, 1.8), true, free, []],
    [
      'bores brought back to size are a change whatever the policy',
      'rescale',
      plate(1.2, 1.5),
      true,
      free,
      ['error no-derivatives'],
    ],
    [
      'a rescaling that was reworked besides is told',
      'rescale',
      plate(1.2, 1.2),
      false,
      free,
      ['error more-than-declared', 'error no-derivatives'],
    ],
    [
      'bores brought back to size, and reworked besides',
      'rescale',
      joined(plate(1.2, 1.5), box(6, 6, 4, [20, 3, 6])),
      true,
      free,
      ['error more-than-declared', 'error no-derivatives'],
    ],
    [
      'a copy with other bores is none',
      'copy',
      plate(1, 1.2),
      false,
      '',
      ['error more-than-declared', 'error no-derivatives'],
    ],
    [
      'a mirror image with other bores is more than that',
      'mirror',
      mapped(plate(1, 1.2), scaling(-1, 1, 1)),
      false,
      free,
      ['error more-than-declared', 'error no-derivatives'],
    ],
  ] as const)('%s', { timeout: 60_000 }, async (_, relation, mesh, hold, policy, expected) => {
    const registry = await derived(relation, mesh, hold, policy);
    expect(told(await audited(registry, 'cuff/right'))).toEqual(expected.map(code => `cuff/right ${code}`));
  });
});

describe('a part that was renamed', () => {
  it('and changed is told by its shape, and judged as what it came from', { timeout: 60_000 }, async () => {
    const registry = await derived('remix', plate(1, 1.2));
    const file = path.join(registry.folder, 'devices/cuff/right/variant.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace('id: shell', 'id: base'));
    const report = await audited(registry, 'cuff/right');
    expect(told(report)).toEqual(['cuff/right error no-derivatives']);
  });

  it('and is another shape altogether is no change of it', { timeout: 60_000 }, async () => {
    const registry = await derived('remix', box(9, 50, 50));
    const file = path.join(registry.folder, 'devices/cuff/right/variant.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace('id: shell', 'id: base'));
    const report = await audited(registry, 'cuff/right');
    expect(report.works[0].findings.filter(({ part }) => part === 'base')).toEqual([]);
  });
});

describe('relatives that nobody declared', () => {
  const device = (
    registry: SmallRegistry,
    name: string,
    names: readonly string[],
    mesh: typeof plain | string,
  ) => {
    registry.write(`devices/cuff/${name}/parts/shell.stl`, mesh);
    registry.write(`devices/cuff/${name}/variant.yaml`, manifest('CC-BY-SA-4.0', names));
  };
  const redate = (registry: SmallRegistry, name: string, date: string): void => {
    const file = path.join(registry.folder, 'devices/cuff', name, 'variant.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace(/date: 2026-03-14/, `date: ${date}`));
  };

  it('the older letter was there first, seen from both sides', { timeout: 60_000 }, async () => {
    const registry = smallRegistry();
    for (const [name, date] of [
      ['first', '2024-02-01'],
      ['second', '2025-06-01'],
    ]) {
      device(registry, name, [`Author of the ${name}`], name === 'first' ? plain : plate(1.1, 1.65));
      await recordByHand(registry.folder, `cuff/${name}`, 'A');
      redate(registry, name, date);
    }
    const report = await audited(registry);
    expect(told(report)).toEqual([
      'cuff/first@A note younger-relative',
      'cuff/second@A error undeclared-relative',
    ]);
    const texts = report.works.flatMap(({ findings }) => findings.map(({ text }) => text));
    for (const text of texts)
      expect(text).toContain(
        'cuff/first@A of 2024-02-01 is the older letter (cuff/second@A of 2025-06-01 the younger)',
      );
    expect(texts.some(text => text.includes('after scaling by 1.1;'))).toBe(true);
  });

  it('a shape that came with a later letter is not as old as the first', { timeout: 60_000 }, async () => {
    const registry = smallRegistry();
    // `left` had quite another shape at first, and took that of `right` later.
    device(registry, 'left', ['Robin Sample'], plateWithHoles(30, 30, 12, []));
    await recordByHand(registry.folder, 'cuff/left', 'A');
    redate(registry, 'left', '2023-01-01');
    device(registry, 'right', ['Kim Example'], plain);
    await recordByHand(registry.folder, 'cuff/right', 'A');
    redate(registry, 'right', '2024-01-01');
    registry.write('devices/cuff/left/parts/shell.stl', mapped(plain, motion([0, 0, 1], 30, [5, 5, 5])));
    expect(told(await audited(registry))).toEqual([
      'cuff/left error undeclared-relative',
      'cuff/right@A note younger-relative',
    ]);
  });

  it(
    'a mesh that cannot be read is named, and keeps no other from being looked at',
    { timeout: 60_000 },
    async () => {
      const registry = smallRegistry();
      device(registry, 'left', ['Robin Sample'], plain);
      await recordByHand(registry.folder, 'cuff/left', 'A');
      device(registry, 'right', ['Kim Example'], plain);
      device(registry, 'broken', ['Kim Example'], 'no mesh at all');
      const report = await audited(registry);
      expect(report.unread.map(({ part }) => part)).toEqual(['cuff/broken/shell']);
      expect(told(report)).toEqual([
        'cuff/left@A note younger-relative',
        'cuff/right error undeclared-relative',
      ]);
      const { out } = await runCli(['audit', '--no-cache'], registry.folder);
      expect(out.replace(/\s+/g, ' ')).toContain(
        'The shape of 1 part could not be looked at: cuff/broken/shell',
      );
    },
  );
});
