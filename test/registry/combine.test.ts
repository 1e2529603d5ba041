import { existsSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CombineVariantsReport } from '@kinprint/registry';
import {
  boxFile,
  cuffRepository,
  leftManifest,
} from '../../packages/registry/src/testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  type TemporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { scriptedDialog } from '../support/scripted-dialog.ts';
import { objections } from '../support/schemas.ts';

let repo: TemporaryRepository;
beforeAll(async () => {
  identity();
  repo = cuffRepository();
  // One remix is longer, the other higher: the new slabs meet along an edge.
  const remix = (name: string, shell: Uint8Array, material: string) => {
    const text = leftManifest
      .replace('small', name)
      .replace('petg', material)
      .replace('parts:', 'derivations: [{from: cuff/left@A, relation: remix}]\nparts:');
    repo.write(`devices/cuff/${name}/variant.yaml`, text);
    repo.write(`devices/cuff/${name}/parts/shell.stl`, shell);
    repo.write(`devices/cuff/${name}/parts/strap.stl`, boxFile(60, 10, 2));
  };
  remix('long', boxFile(44, 30, 20), 'tpu');
  remix('high', boxFile(40, 30, 25), 'pla');
  for (const name of ['left', 'long', 'high'])
    expect((await runCli(['record', `cuff/${name}`], repo.folder)).code).toBe(0);
}, 60_000);
afterAll(removeTemporaryFolders);

const command = ['combine', 'cuff/left@A', 'cuff/long@A', 'cuff/high@A'];

async function combined(...args: string[]) {
  const { code, out, err } = await runCli([...command, ...args, '--as-placed', '--json'], repo.folder);
  expect(err).toBe('');
  const json = JSON.parse(out) as CombineVariantsReport;
  expect(objections('combine', json)).toEqual([]);
  return { code, json };
}

describe('kinprint combine for variants', () => {
  it('shows every conflict with the words that settle it, and writes nothing', async () => {
    const { code, json } = await combined('both');
    expect(code).toBe(1);
    expect(json.written).toBeNull();
    expect(json.conflicts).toMatchObject([
      { key: 'parts/shell/material', base: 'petg', a: 'tpu', b: 'pla', take: null },
    ]);
    expect(json.parts[0]).toMatchObject({ id: 'shell', from: 'combined', combination: { result: null } });
    const { out } = await runCli([...command, 'both', '--as-placed'], repo.folder);
    expect(out).toContain('--take shell:1=…,parts/shell/material=…');
    expect(Math.max(...out.split('\n').map(line => [...line].length))).toBeLessThanOrEqual(80);
    expect(existsSync(path.join(repo.folder, 'devices/cuff/both'))).toBe(false);
  }, 60_000);

  it('asks somebody at the terminal: first about meshes, then about fields, which cannot be both', async () => {
    const args = [...command, 'asked', '--as-placed'];
    const stopping = scriptedDialog('both', 'stop');
    expect((await runCli(args, repo.folder, stopping.open)).code).toBe(1);
    expect(existsSync(path.join(repo.folder, 'devices/cuff/asked'))).toBe(false);

    const person = scriptedDialog('both', 'both', 'a');
    const { code, out } = await runCli(args, repo.folder, person.open);
    expect(person.asked).toHaveLength(3);
    expect(person.asked[0]).toContain('conflict shell:1 both added');
    expect(person.asked[1]).toMatch(/conflict +parts\/shell\/material\n +base +petg\n +A +tpu\n +B +pla\n/);
    expect(person.asked[2]).toBe('    take a, b, none or stop? ');
    expect(code).toBe(0);
    expect(out).toMatch(/^combined/);
    const manifest = readFileSync(path.join(repo.folder, 'devices/cuff/asked/variant.yaml'), 'utf8');
    expect(manifest).toContain('material: tpu');
    rmSync(path.join(repo.folder, 'devices/cuff/asked'), { recursive: true });
  }, 60_000);

  it('writes what was chosen; check finds nothing to stop on, and it can be recorded', async () => {
    const { code, json } = await combined(
      'both',
      '--take',
      'shell:1=both,parts/shell/material=b',
      '--title',
      'Long and high',
    );
    expect(code).toBe(0);
    expect(json.written).toEqual({ address: 'cuff/both', folder: 'devices/cuff/both' });
    const result = json.parts[0].combination!.result!;
    // 40·30·20 with a slab of 4·30·20 and one of 40·30·5.
    expect(result.volume_mm3).toBeCloseTo(24_000 + 2_400 + 6_000, 2);
    expect((await runCli(['check', 'cuff/both'], repo.folder)).code).toBe(0);
    expect((await runCli(['record', 'cuff/both'], repo.folder)).code).toBe(0);
    const lineage = await runCli(['lineage', 'cuff/both', '--ancestors', '--json'], repo.folder);
    const { edges } = JSON.parse(lineage.out) as { edges: { relation: string }[] };
    expect(edges.filter(edge => edge.relation === 'combination')).toHaveLength(2);
  }, 60_000);

  it.each([
    [['both', '-o', 'out.stl'], /--output goes with mesh files/],
    [['left'], /something of that name/],
    [['new', '--take', 'parts/shell/hand=a'], /no conflict 'parts\/shell\/hand'/],
    [['new', '--take', 'parts/shell/material=both'], /cannot be both/],
  ])(
    '%j is wrong use, with a remedy',
    async (args, message) => {
      const { code, out, err } = await runCli([...command, ...args, '--as-placed'], repo.folder);
      expect([code, out]).toEqual([2, '']);
      expect(err).toMatch(message);
    },
    60_000,
  );
});
