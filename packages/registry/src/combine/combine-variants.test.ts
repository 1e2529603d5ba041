import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { bytesSource, massProperties, readMesh, writeStlBinary } from '@kinprint/mesh';
import { loadKernel, subtract, union, type Kernel } from '@kinprint/solid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { boxMesh, prismMesh, ringPoints } from '../../../solid/src/testing/shapes.ts';
import { recordVariant } from '../record/record-variant.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { boxFile, cuffRepository } from '../testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { combineVariants } from './combine-variants.ts';
import type { CombineVariantsRequest, VariantChoices } from './variants.ts';

let kernel: Kernel;
beforeAll(async () => {
  identity();
  kernel = await loadKernel();
});
afterAll(removeTemporaryFolders);

const read = (repo: TemporaryRepository) => readRegistry(workingFiles(repo.folder));

const manifest = (title: string, more: string, parts: string): string =>
  `kinprint: variant/1\ntitle: ${title}\n${more}parts:\n${parts}`;
const shellLine = (extra = '') =>
  `  - {id: shell, mesh: parts/shell.stl, material: petg, quantity: 1${extra}}\n`;
const strapLine = (quantity: number) => `  - {id: strap, mesh: parts/strap.stl, quantity: ${quantity}}\n`;

/** A block as the base; A puts a boss on it, B bores it and lengthens the strap. */
async function group(changes: { a?: string; b?: string; licenseB?: string } = {}) {
  const repo = cuffRepository();
  const block = boxMesh([0, 0, 0], [40, 30, 20]);
  const bossed = union(kernel, [block, prismMesh(ringPoints(32, 4, [8, 8]), 19, 24)]);
  const bored = subtract(kernel, block, prismMesh(ringPoints(32, 3, [28, 20]), -1, 21));
  const put = (name: string, text: string, shell: Uint8Array, strap: Uint8Array) => {
    repo.write(`devices/cuff/${name}/variant.yaml`, text);
    repo.write(`devices/cuff/${name}/parts/shell.stl`, shell);
    repo.write(`devices/cuff/${name}/parts/strap.stl`, strap);
  };
  const license = 'license: CC-BY-SA-4.0\n';
  put(
    'base',
    manifest(
      'Cuff',
      `summary: A cuff.\n${license}authors: [{name: Ines Sample}]\ncautions: [Check the skin.]\n`,
      shellLine() + strapLine(1),
    ),
    writeStlBinary(block),
    boxFile(60, 10, 2),
  );
  put(
    'boss',
    changes.a ??
      manifest(
        'Cuff with a boss',
        `summary: A cuff.\n${license}authors: [{name: Ines Sample}, {name: Kim Example, roles: [x-casting]}]\ncautions: [Check the skin., The boss is hard.]\nderivations: [{from: cuff/base@A, relation: remix}]\n`,
        shellLine(', title: Shell with a boss') + strapLine(1),
      ),
    writeStlBinary(bossed),
    boxFile(60, 10, 2),
  );
  put(
    'bore',
    changes.b ??
      manifest(
        'Cuff with a bore',
        `summary: A cuff with air.\nlicense: ${changes.licenseB ?? 'CC-BY-SA-4.0'}\nauthors: [{name: Ines Sample}, {name: Lu Invented}]\ncautions: [Check the skin.]\nderivations: [{from: cuff/base@A, relation: remix}]\n`,
        shellLine() + strapLine(2) + '  - {id: clip, mesh: parts/clip.stl}\n',
      ),
    writeStlBinary(bored),
    boxFile(80, 10, 2),
  );
  repo.write('devices/cuff/bore/parts/clip.stl', boxFile(5, 6, 7));
  repo.write('devices/cuff/bore/notes.md', 'Bored at the back.\n');
  for (const name of ['base', 'boss', 'bore']) {
    const outcome = await recordVariant(await read(repo), `cuff/${name}`, { date: '2026-03-14' });
    if (outcome.kind !== 'recorded') throw new Error(outcome.kind);
  }
  return repo;
}

const nothing: VariantChoices = { all: null, single: {} };

async function combine(repo: TemporaryRepository, request: Partial<CombineVariantsRequest> = {}) {
  const report = await combineVariants(await read(repo), {
    base: 'cuff/base@A',
    a: 'cuff/boss@A',
    b: 'cuff/bore',
    to: 'both',
    choices: nothing,
    mesh: {},
    ...request,
  });
  const state = await read(repo);
  expect(state.problems).toEqual([]);
  return { report, made: state.variants.get('cuff/both') };
}

const volume = (repo: TemporaryRepository, file: string) =>
  massProperties(readMesh(bytesSource(readFileSync(path.join(repo.folder, file)))).objects[0].mesh).volume;
/** Area of a regular polygon of 32 sides in a circle. */
const disk = (r: number) => 16 * r * r * Math.sin(Math.PI / 16);

describe('combining variants', () => {
  it('takes what one side changed, combines what both did, credits both, and links to both', async () => {
    const repo = await group();
    const { report, made } = await combine(repo);
    expect(report.conflicts).toEqual([]);
    expect(report.parts.map(part => [part.id, part.from])).toEqual([
      ['shell', 'combined'],
      ['strap', 'b'],
      ['clip', 'b'],
    ]);
    expect(report.parts[0].combination?.proof?.holds).toBe(true);
    expect(report.written).toEqual({ address: 'cuff/both', folder: 'devices/cuff/both' });
    expect(made?.document.problems).toEqual([]);
    const value = made!.document.value!;
    expect(value).toMatchObject({
      title: 'Cuff (combination)',
      summary: 'A cuff with air.',
      license: 'CC-BY-SA-4.0',
      cautions: ['Check the skin.', 'The boss is hard.'],
      parts: [
        { id: 'shell', title: 'Shell with a boss', material: 'petg', quantity: 1, mesh: 'parts/shell.stl' },
        { id: 'strap', quantity: 2, mesh: 'parts/strap.stl' },
        { id: 'clip', mesh: 'parts/clip.stl' },
      ],
    });
    expect(value.revisions).toBeUndefined();
    expect(value.authors?.map(author => author.name)).toEqual(['Ines Sample', 'Kim Example', 'Lu Invented']);
    expect(value.derivations).toMatchObject([
      { from: 'cuff/boss@A', digest: report.revisions.a.digest, relation: 'combination' },
      { from: 'cuff/bore@A', digest: report.revisions.b.digest, relation: 'combination' },
    ]);
    const wanted = 40 * 30 * 20 + disk(4) * 4 - disk(3) * 20;
    expect(volume(repo, 'devices/cuff/both/parts/shell.stl')).toBeCloseTo(wanted, 1);
    expect(volume(repo, 'devices/cuff/both/parts/strap.stl')).toBeCloseTo(80 * 10 * 2, 2);
    expect(made!.files.map(file => file.path)).toContain('devices/cuff/both/notes.md');
  }, 60_000);

  it('an unchanged side gives the other side, file for file', async () => {
    const repo = await group();
    const { report } = await combine(repo, { a: 'cuff/base@A' });
    expect(report.parts.map(part => part.from)).toEqual(['b', 'b', 'b']);
    for (const file of ['shell', 'strap', 'clip'])
      expect(readFileSync(path.join(repo.folder, `devices/cuff/both/parts/${file}.stl`))).toEqual(
        readFileSync(path.join(repo.folder, `devices/cuff/bore/parts/${file}.stl`)),
      );
  });

  it('names conflicts of the manifest, writes nothing before all are settled, and takes what is chosen', async () => {
    const a = manifest(
      'Cuff with a boss',
      'summary: A cuff with a boss.\nlicense: CC-BY-SA-4.0\n',
      shellLine(', print: {infill_percent: 40}') + strapLine(3),
    );
    const repo = await group({ a });
    const open = await combine(repo);
    expect(open.report.written).toBeNull();
    expect(open.made).toBeUndefined();
    expect(readdirSync(path.join(repo.folder, 'devices/cuff')).sort()).toEqual([
      'base',
      'bore',
      'boss',
      'device.yaml',
      'left',
    ]);
    expect(open.report.conflicts).toEqual([
      { key: 'summary', base: 'A cuff.', a: 'A cuff with a boss.', b: 'A cuff with air.', take: null },
      { key: 'parts/strap/quantity', base: 1, a: 3, b: 2, take: null },
    ]);
    const { made } = await combine(repo, {
      choices: { all: 'a', single: { 'parts/strap/quantity': 'none' } },
    });
    expect(made?.document.value).toMatchObject({
      summary: 'A cuff with a boss.',
      parts: [{ id: 'shell', print: { infill_percent: 40 } }, { id: 'strap', quantity: 1 }, { id: 'clip' }],
    });
    await expect(
      combine(repo, { to: 'more', choices: { all: 'a', single: { 'parts/strap/hand': 'a' } } }),
    ).rejects.toMatchObject({
      code: 'conflict-unknown',
      remedy: expect.stringContaining('summary') as string,
    });
    await expect(
      combine(repo, { to: 'more', choices: { all: 'a', single: { summary: 'both' } } }),
    ).rejects.toMatchObject({ code: 'take-unfit' });
  }, 60_000);

  it('a part that one takes out and the other changes is a conflict; taken out, it is gone', async () => {
    const a = manifest('Cuff with a boss', 'summary: A cuff.\nlicense: CC-BY-SA-4.0\n', shellLine());
    const repo = await group({ a });
    const { report } = await combine(repo);
    expect(report.conflicts.map(conflict => conflict.key)).toEqual(['parts/strap']);
    const { made } = await combine(repo, { choices: { all: null, single: { 'parts/strap': 'a' } } });
    expect(made?.document.value?.parts.map(part => part.id)).toEqual(['shell', 'clip']);
    expect(existsSync(path.join(repo.folder, 'devices/cuff/both/parts/strap.stl'))).toBe(false);
  }, 60_000);

  it('solids in conflict are settled by part and number', async () => {
    const repo = await group();
    repo.write('devices/cuff/bore/parts/shell.stl', boxFile(44, 30, 20));
    repo.write('devices/cuff/boss/parts/shell.stl', boxFile(42, 30, 20));
    for (const name of ['boss', 'bore'])
      await recordVariant(await read(repo), `cuff/${name}`, { date: '2026-03-15' });
    const mesh = { asPlaced: true };
    const open = await combine(repo, { a: 'cuff/boss@B', b: 'cuff/bore@B', mesh });
    expect(open.report.written).toBeNull();
    expect(open.report.parts[0].combination?.conflicts).toMatchObject([{ number: 1, kind: 'both-added' }]);
    const choices: VariantChoices = { all: null, single: { 'shell:1': 'b' } };
    const { report } = await combine(repo, { a: 'cuff/boss@B', b: 'cuff/bore@B', mesh, choices });
    expect(report.written?.address).toBe('cuff/both');
    expect(volume(repo, 'devices/cuff/both/parts/shell.stl')).toBeCloseTo(44 * 30 * 20, 2);
  }, 60_000);

  it('licenses that differ are left to a person, with marks that check shows', async () => {
    const repo = await group({ licenseB: 'CC-BY-4.0' });
    const { report, made } = await combine(repo);
    const value = made!.document.value!;
    expect(value.license).toBeUndefined();
    expect(value.parts[0].license).toBeUndefined();
    expect(value.parts[0].unsettled).toMatch(/CC-BY-SA-4\.0 and CC-BY-4\.0/);
    expect(value.parts[1].license).toBe('CC-BY-4.0');
    expect(value.derivations?.every(item => (item.unsettled ?? '').includes('licenses'))).toBe(true);
    expect(report.unsettled.join(' ')).toContain('licenses differ');
  }, 60_000);

  it('refuses a name that is taken', async () => {
    const repo = await group();
    await expect(combine(repo, { to: 'left' })).rejects.toMatchObject({ code: 'variant-exists' });
  });
});
