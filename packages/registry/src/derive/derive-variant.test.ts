import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { bytesSource, massProperties, readMesh, transformMesh, type Affine, type Mesh } from '@kinprint/mesh';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recordVariant } from '../record/record-variant.ts';
import { readRegistry } from '../state/read-registry.ts';
import { workingFiles } from '../state/working-files.ts';
import { boxFile, boxMesh, cuffRepository } from '../testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  type TemporaryRepository,
} from '../testing/temporary-repository.ts';
import { deriveVariant, type DeriveRequest } from './derive-variant.ts';

beforeAll(identity);
afterAll(removeTemporaryFolders);

const manifest = `kinprint: variant/1
title: Utensil cuff, left, small
license: CC-BY-SA-4.0
authors:
  - name: Ines Sample
    roles: [conceptualization, x-casting]
    since: 2024-01-01
parts:
  - id: shell
    mesh: parts/shell.stl
    hand: left
    source: [source/shell.step]
    print: {up: x, layer_height_mm: 0.2}
    interfaces:
      - {id: screw, kind: bore, nominal_mm: 3.2, at_mm: [5, 6, 7], axis: [1, 0, 2], scale: hold}
      - {id: rim, kind: pin, nominal_mm: 10, at_mm: [0, 1, 2]}
  - id: strap
    mesh: parts/strap.stl
assembly:
  - part: shell
    translate_mm: [1, 2, 3]
    rotate: {axis: [1, 2, 3], degrees: 30}
fit: {body_measure: hand-breadth, base_mm: 60, scales: {least: 0.9, most: 1.2}}
cautions:
  - Check the skin after each use.
`;

const read = (repo: TemporaryRepository) => readRegistry(workingFiles(repo.folder));

async function recorded() {
  const repo = cuffRepository();
  repo.write('devices/cuff/left/variant.yaml', manifest);
  repo.write('devices/cuff/left/source/shell.step', 'model');
  const outcome = await recordVariant(await read(repo), 'cuff/left', { date: '2026-03-14' });
  if (outcome.kind !== 'recorded') throw new Error(outcome.kind);
  return { repo, digest: outcome.entry.digest };
}

async function derive(repo: TemporaryRepository, request: Partial<DeriveRequest>) {
  const report = await deriveVariant(await read(repo), {
    from: 'cuff/left',
    to: 'new',
    others: [],
    relation: 'remix',
    ...request,
  });
  const state = await read(repo);
  const made = state.variants.get(report.address);
  expect(state.problems).toEqual([]);
  expect(made?.document.problems).toEqual([]);
  return {
    report,
    value: made!.document.value!,
    text: made!.document.text,
    files: made!.files.map(f => f.path),
  };
}

function meshOf(repo: TemporaryRepository, file: string): Mesh {
  return readMesh(bytesSource(readFileSync(path.join(repo.folder, file)))).objects[0].mesh;
}

describe('deriveVariant', () => {
  it('takes the content as recorded, not as it lies there, with link, credit, license and cautions', async () => {
    const { repo, digest } = await recorded();
    repo.write('devices/cuff/left/parts/shell.stl', boxFile(1, 1, 1));
    const { report, value, text, files } = await derive(repo, {});
    expect(report).toMatchObject({
      address: 'cuff/new',
      parents: [{ address: 'cuff/left@A', digest }],
    });
    expect(files).toEqual([
      'devices/cuff/new/parts/shell.stl',
      'devices/cuff/new/parts/strap.stl',
      'devices/cuff/new/source/shell.step',
    ]);
    expect(readFileSync(path.join(repo.folder, files[0]))).toEqual(Buffer.from(boxFile(40, 30, 20)));
    expect(value.derivations).toEqual([
      { from: 'cuff/left@A', digest, relation: 'remix', unsettled: 'Say what was changed.' },
    ]);
    expect(value.authors).toEqual([
      { name: 'Ines Sample', roles: ['conceptualization', 'x-casting'], since: '2024-01-01' },
    ]);
    expect(value.license).toBe('CC-BY-SA-4.0');
    expect(value.cautions).toEqual(['Check the skin after each use.']);
    expect(value.revisions).toBeUndefined();
    expect(text).toContain('# Derived from cuff/left@A.');
    expect(text).toContain('# Everybody who made');
  });

  it('really mirrors the meshes, facing outward, and all that has a place', async () => {
    const { repo } = await recorded();
    const { value, report } = await derive(repo, { relation: 'mirror', to: 'cuff/right' });
    const before = meshOf(repo, 'devices/cuff/left/parts/shell.stl');
    const after = meshOf(repo, 'devices/cuff/right/parts/shell.stl');
    expect(massProperties(after).volume).toBeCloseTo(massProperties(before).volume, 6);
    expect(massProperties(after).centroid).toEqual([-20, 15, 10]);
    expect(value.title).toBe('Utensil cuff, right, small');
    const shell = value.parts[0];
    expect(shell).toMatchObject({ hand: 'right', print: { up: '-x' } });
    expect(shell.source).toBeUndefined();
    expect(shell.interfaces?.[0]).toMatchObject({ nominal_mm: 3.2, at_mm: [-5, 6, 7], axis: [-1, 0, 2] });
    expect(shell.unsettled).toBeUndefined();
    expect(report.unsettled).toEqual([expect.stringContaining('Editable models')]);
    expect(existsSync(path.join(repo.folder, 'devices/cuff/right/source'))).toBe(false);

    // The assembly of mirrored parts is the mirrored assembly: M(Rp + t) = R'(Mp) + t' for any point.
    const old = placed(boxMesh(4, 5, 6), [1, 2, 3], [1, 2, 3], 30);
    const now = value.assembly![0];
    const mirror: Affine = [
      [-1, 0, 0, 0],
      [0, 1, 0, 0],
      [0, 0, 1, 0],
      [0, 0, 0, 1],
    ];
    const wanted = transformMesh(old, mirror).positions;
    const got = placed(
      transformMesh(boxMesh(4, 5, 6), mirror),
      now.translate_mm!,
      now.rotate!.axis,
      now.rotate!.degrees,
    ).positions;
    got.forEach((v, k) => expect(v).toBeCloseTo(wanted[k], 9));
  });

  it('really rescales, and marks what is held at its size', async () => {
    const { repo } = await recorded();
    const { value } = await derive(repo, { relation: 'rescale', scale: 1.1, to: 'large' });
    const after = meshOf(repo, 'devices/cuff/large/parts/shell.stl');
    expect(massProperties(after).volume / (40 * 30 * 20)).toBeCloseTo(1.331, 6);
    expect(value.parts[0].interfaces).toMatchObject([
      { id: 'screw', nominal_mm: 3.2, at_mm: [5.5, 6.6, 7.7], axis: [1, 0, 2] },
      { id: 'rim', nominal_mm: 11, at_mm: [0, 1.1, 2.2] },
    ]);
    expect(value.parts[0]).toMatchObject({
      hand: 'left',
      unsettled: expect.stringContaining('screw') as string,
    });
    expect(value.parts[1].unsettled).toBeUndefined();
    expect(value.fit).toEqual({
      body_measure: 'hand-breadth',
      base_mm: 66,
      scales: { least: 0.818181818182, most: 1.09090909091 },
    });
    expect(value.derivations?.[0]).toMatchObject({
      relation: 'rescale',
      changes: expect.stringContaining('1.1') as string,
    });
  });

  it('combines two parents', async () => {
    const { repo } = await recorded();
    repo.write(
      'devices/cuff/other/variant.yaml',
      'kinprint: variant/1\ntitle: Other\nlicense: CC0-1.0\nauthors: [{name: Kim Example}]\nparts:\n  - {id: shell, mesh: parts/shell.stl}\n  - {id: clip, mesh: parts/strap.stl}\ncautions: [Keep from heat.]\n',
    );
    repo.write('devices/cuff/other/parts/shell.stl', boxFile(1, 2, 3));
    repo.write('devices/cuff/other/parts/strap.stl', boxFile(4, 5, 6));
    await recordVariant(await read(repo), 'cuff/other', { date: '2026-03-14' });
    const { value, report, text, files } = await derive(repo, {
      relation: 'combination',
      others: ['cuff/other@A'],
      to: 'both',
    });
    expect(value.parts.map(part => [part.id, part.mesh, part.license])).toEqual([
      ['shell', 'parts/shell.stl', 'CC-BY-SA-4.0'],
      ['strap', 'parts/strap.stl', 'CC-BY-SA-4.0'],
      ['clip', 'parts/strap-2.stl', 'CC0-1.0'],
    ]);
    // Which license holds for the whole is a person's to settle; check says so until it is.
    expect(value.license).toBeUndefined();
    expect(value.derivations?.map(item => item.unsettled)).toEqual([
      'Say what was changed. The licenses of the parents differ: settle that of the whole.',
      'Say what was changed. The licenses of the parents differ: settle that of the whole.',
    ]);
    expect(text).toContain('# unsettled: The licenses of the parents differ');
    expect(files).toContain('devices/cuff/both/parts/strap-2.stl');
    expect(value.authors?.map(author => author.name)).toEqual(['Ines Sample', 'Kim Example']);
    expect(value.cautions).toEqual(['Check the skin after each use.', 'Keep from heat.']);
    expect(value.derivations?.map(item => [item.from, item.relation])).toEqual([
      ['cuff/left@A', 'combination'],
      ['cuff/other@A', 'combination'],
    ]);
    expect(report.unsettled.join(' ')).toMatch(/licenses differ.*'shell' is in both/);
  });

  it('carries one license of a combination where all have the same, and renames models as it does meshes', async () => {
    const { repo } = await recorded();
    repo.write(
      'devices/cuff/other/variant.yaml',
      'kinprint: variant/1\ntitle: Other\nlicense: CC-BY-SA-4.0\nparts:\n  - {id: clip, mesh: parts/shell.stl, source: [source/shell.step]}\n  - {id: hook, mesh: parts/shell.stl, source: [source/shell.step]}\n',
    );
    repo.write('devices/cuff/other/parts/shell.stl', boxFile(4, 5, 6));
    repo.write('devices/cuff/other/source/shell.step', 'another model');
    await recordVariant(await read(repo), 'cuff/other', { date: '2026-03-14' });
    const { value, report } = await derive(repo, {
      relation: 'combination',
      others: ['cuff/other'],
      to: 'both',
    });
    expect(value.license).toBe('CC-BY-SA-4.0');
    expect(report.unsettled).toEqual(['Say in derivations what was changed; many licenses ask for it.']);
    expect(value.parts.slice(2).map(part => [part.id, part.mesh, part.source, part.license])).toEqual([
      ['clip', 'parts/shell-2.stl', ['source/shell-2.step'], undefined],
      ['hook', 'parts/shell-2.stl', ['source/shell-2.step'], undefined],
    ]);
    expect(readFileSync(path.join(repo.folder, 'devices/cuff/both/source/shell-2.step'), 'utf8')).toBe(
      'another model',
    );
  });

  it.each(['remix', 'mirror'] as const)('warns of a parent without a license: %s', async relation => {
    const repo = cuffRepository();
    repo.write('devices/cuff/left/variant.yaml', manifest.replace('license: CC-BY-SA-4.0\n', ''));
    repo.write('devices/cuff/left/source/shell.step', 'model');
    await recordVariant(await read(repo), 'cuff/left', { date: '2026-03-14' });
    const { value, report, text } = await derive(repo, { relation });
    expect(report.unsettled[0]).toMatch(
      /^No license is stated for cuff\/left@A: all rights are reserved\. Ask/,
    );
    expect(value.license).toBeUndefined();
    expect(value.derivations?.[0].unsettled).toMatch(/No license is stated: all rights are reserved\./);
    expect(text).toContain('# unsettled: No license is stated');
  });

  it('does not warn where the registry gives variants a license, or every part has its own', async () => {
    const repo = cuffRepository();
    repo.write('registry.yaml', 'kinprint: registry/1\nname: Lending group\nlicense: CC0-1.0\n');
    repo.write('devices/cuff/left/variant.yaml', manifest.replace('license: CC-BY-SA-4.0\n', ''));
    repo.write('devices/cuff/left/source/shell.step', 'model');
    await recordVariant(await read(repo), 'cuff/left', { date: '2026-03-14' });
    const { report, value } = await derive(repo, { relation: 'copy' });
    expect([report.unsettled, value.license, value.derivations?.[0].unsettled]).toEqual([
      [],
      undefined,
      undefined,
    ]);
    repo.write('registry.yaml', 'kinprint: registry/1\nname: Lending group\n');
    repo.write(
      'devices/cuff/parted/variant.yaml',
      'kinprint: variant/1\ntitle: Parted\nparts:\n  - {id: a, mesh: parts/a.stl, license: CC0-1.0}\n  - {id: b, mesh: parts/b.stl, license: MIT}\n',
    );
    repo.write('devices/cuff/parted/parts/a.stl', boxFile(1, 2, 3));
    repo.write('devices/cuff/parted/parts/b.stl', boxFile(2, 2, 3));
    await recordVariant(await read(repo), 'cuff/parted', { date: '2026-03-14' });
    const parted = await derive(repo, { from: 'cuff/parted', relation: 'copy', to: 'parted-copy' });
    expect(parted.report.unsettled).toEqual([]);
  });

  it('mirrors parts whose files differ in their format alone, each into a file of its own', async () => {
    const repo = cuffRepository();
    const obj = (x: number) => `v 0 0 0\nv ${x} 0 0\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n`;
    repo.write(
      'devices/cuff/left/variant.yaml',
      'kinprint: variant/1\ntitle: Odd\nlicense: CC0-1.0\nparts:\n  - {id: one, mesh: parts/a.obj}\n  - {id: two, mesh: parts/a.mesh}\n  - {id: three, mesh: parts/a.stl}\n  - {id: four, mesh: parts/a}\n',
    );
    repo.write('devices/cuff/left/parts/a.obj', obj(2));
    repo.write('devices/cuff/left/parts/a.mesh', obj(3));
    repo.write('devices/cuff/left/parts/a', obj(5));
    repo.write('devices/cuff/left/parts/a.stl', boxFile(1, 2, 3));
    await recordVariant(await read(repo), 'cuff/left', { date: '2026-03-14' });
    const { value } = await derive(repo, { relation: 'mirror' });
    expect(value.parts.map(part => part.mesh)).toEqual([
      'parts/a-2.stl',
      'parts/a-3.stl',
      'parts/a.stl',
      'parts/a-4.stl',
    ]);
    // A tetrahedron on the axes has a sixth of the product of its edges as volume.
    const volumes = value.parts.map(
      part => massProperties(meshOf(repo, `devices/cuff/new/${part.mesh}`)).volume,
    );
    [2 / 6, 3 / 6, 6, 5 / 6].forEach((volume, k) => expect(volumes[k]).toBeCloseTo(volume, 6));
  });

  it.each<readonly [Partial<DeriveRequest>, string]>([
    [{ to: 'left' }, 'variant-exists'],
    [{ to: 'Bad Name' }, 'address-bad'],
    [{ to: 'spoon/x' }, 'device-unknown'],
    [{ to: 'aux' }, 'name-unsafe'],
    [{ to: 'cuff/com1' }, 'name-unsafe'],
    [{ from: 'cuff/lefd' }, 'variant-unknown'],
    [{ from: 'cuff/left@C' }, 'letter-unknown'],
    [{ from: 'friends:cuff/left@A' }, 'source-unknown'],
    [{ relation: 'rescale' }, 'relation-unfit'],
    [{ relation: 'mirror', scale: 2 }, 'relation-unfit'],
    [{ relation: 'rescale', scale: -1 }, 'relation-unfit'],
    [{ relation: 'combination' }, 'relation-unfit'],
    [{ others: ['cuff/left@A'] }, 'relation-unfit'],
  ])('refuses %j and leaves nothing behind', async (request, code) => {
    const { repo } = await recorded();
    await expect(derive(repo, request)).rejects.toMatchObject({ code });
    expect(readdirSync(path.join(repo.folder, 'devices/cuff')).sort()).toEqual(['device.yaml', 'left']);
  });

  it('makes no files that not every system can hold, whatever its parent has', async () => {
    const repo = cuffRepository();
    repo.write('devices/cuff/left/source/aux.step', 'x');
    await recordVariant(await read(repo), 'cuff/left', { date: '2026-03-14' });
    await expect(derive(repo, {})).rejects.toMatchObject({
      code: 'name-unsafe',
      message: expect.stringContaining("'aux.step' means a device") as string,
    });
    expect(readdirSync(path.join(repo.folder, 'devices/cuff')).sort()).toEqual(['device.yaml', 'left']);
  });

  it('a manifest with mistakes is called that, not unrecorded', async () => {
    const { repo } = await recorded();
    repo.write('devices/cuff/left/variant.yaml', `${manifest}parts: [\n`);
    await expect(derive(repo, {})).rejects.toMatchObject({ code: 'manifest-unusable' });
  });
});

/** Rodrigues' rotation formula, then the translation. */
function placed(
  mesh: Mesh,
  [tx, ty, tz]: readonly [number, number, number],
  axis: readonly [number, number, number],
  degrees: number,
): Mesh {
  const n = Math.hypot(...axis);
  const [x, y, z] = axis.map(v => v / n);
  const c = Math.cos((degrees * Math.PI) / 180);
  const s = Math.sin((degrees * Math.PI) / 180);
  const k = 1 - c;
  return transformMesh(mesh, [
    [c + x * x * k, x * y * k - z * s, x * z * k + y * s, tx],
    [y * x * k + z * s, c + y * y * k, y * z * k - x * s, ty],
    [z * x * k - y * s, z * y * k + x * s, c + z * z * k, tz],
    [0, 0, 0, 1],
  ]);
}
