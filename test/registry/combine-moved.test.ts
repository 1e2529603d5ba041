import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { VariantDocument } from '@kinprint/manifest';
import { rigidMotion, transformMesh, writeStlBinary } from '@kinprint/mesh';
import { loadKernel, subtract, union } from '@kinprint/solid';
import { parse } from 'yaml';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cuffRepository } from '../../packages/registry/src/testing/cuff-repository.ts';
import {
  identity,
  removeTemporaryFolders,
  type TemporaryRepository,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { boxMesh, prismMesh, ringPoints } from '../../packages/solid/src/testing/shapes.ts';
import { angle } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';

let repo: TemporaryRepository;
afterAll(removeTemporaryFolders);

/** Where one remix was exported to: turned by 90° about x, then shifted. A point (x, y, z) comes to (x, −z, y) + shift. */
const shift = [70, -25, 13] as const;
const motion = rigidMotion({ axis: [1, 0, 0], degrees: 90 }, shift);

/** An angle with a bore; A adds a block to it, B another bore, and is exported elsewhere. */
beforeAll(async () => {
  identity();
  repo = cuffRepository();
  const kernel = await loadKernel();
  const bore = (x: number, y: number, d: number) => prismMesh(ringPoints(96, d / 2, [x, y]), -1, 13);
  const base = subtract(kernel, angle(40, 25, 6, 12), bore(34, 3, 3.2));
  const blocked = union(kernel, [base, boxMesh([20, 5, 3], [26, 9, 9])]);
  const bored = transformMesh(subtract(kernel, base, bore(3, 18, 4)), motion);
  const put = (name: string, more: string, interfaces: string, placed: string, shell: typeof base) => {
    repo.write(
      `devices/cuff/${name}/variant.yaml`,
      `kinprint: variant/1
title: Angle
license: CC-BY-SA-4.0
authors: [{name: Ines Sample}]
${more}parts:
  - id: shell
    mesh: parts/shell.stl
    interfaces:
${interfaces}assembly:
  - {part: shell, ${placed}}
`,
    );
    repo.write(`devices/cuff/${name}/parts/shell.stl`, writeStlBinary(shell));
  };
  const remix = 'derivations: [{from: cuff/angle@A, relation: remix}]\n';
  const hinge = (at: string, axis: string) =>
    `      - {id: hinge, kind: bore, nominal_mm: 3.2, at_mm: ${at}, axis: ${axis}}\n`;
  put('angle', '', hinge('[34, 3, 6]', '[0, 0, 1]'), 'translate_mm: [0, 0, 5]', base);
  put('blocked', remix, hinge('[34, 3, 6]', '[0, 0, 1]'), 'translate_mm: [0, 0, 5]', blocked);
  put(
    'bored',
    remix,
    // In its own frame: (34, −6, 3) + shift, and (3, −6, 18) + shift.
    hinge('[104, -31, 16]', '[0, -1, 0]') +
      '      - {id: peg, kind: bore, nominal_mm: 4, at_mm: [73, -31, 31], axis: [0, -1, 0]}\n',
    // Where the base's stands: turned back, then shifted by (−70, −13, −25), and up by 5.
    'translate_mm: [-70, -13, -20], rotate: {axis: [1, 0, 0], degrees: -90}',
    bored,
  );
  // The base's mesh, hung higher and with a face declared; and something that cannot be laid over it.
  const rim = '      - {id: rim, kind: face, at_mm: [20, 0, 6], axis: [0, -1, 0]}\n';
  put('rehung', remix, hinge('[34, 3, 6]', '[0, 0, 1]') + rim, 'translate_mm: [0, 0, 9]', base);
  const slab = hinge('[4, 3, 15]', '[0, 0, 1]');
  const through = prismMesh(ringPoints(40, 1.6, [4, 3]), -1, 31);
  const other = subtract(kernel, prismMesh(ringPoints(7, 33), 0, 30), through);
  put('slab', remix, slab, 'translate_mm: [1, 2, 3]', other);
  for (const name of ['angle', 'blocked', 'bored', 'rehung', 'slab']) {
    expect((await runCli(['check', `cuff/${name}`], repo.folder)).out).not.toContain('interface-');
    expect((await runCli(['record', `cuff/${name}`], repo.folder)).code).toBe(0);
  }
}, 60_000);

describe('combining variants of which one was exported elsewhere in space', () => {
  it.each([
    ['blocked', 'bored'],
    ['bored', 'blocked'],
  ])(
    '%s and %s: interfaces and placement are carried along, and check finds them where they are said to be',
    async (a, b) => {
      const to = `${a}-first`;
      const args = ['combine', 'cuff/angle@A', `cuff/${a}@A`, `cuff/${b}@A`, to, '--json'];
      const { code, out, err } = await runCli(args, repo.folder);
      expect([code, err]).toEqual([0, '']);
      const { parts, conflicts } = JSON.parse(out) as {
        parts: { combination: Record<'a' | 'b', { alignment: { kind: string } }> }[];
        conflicts: unknown[];
      };
      expect(conflicts).toEqual([]);
      expect(parts[0].combination[a === 'bored' ? 'a' : 'b'].alignment.kind).toBe('rigid');

      const file = path.join(repo.folder, `devices/cuff/${to}/variant.yaml`);
      const value = parse(readFileSync(file, 'utf8')) as VariantDocument;
      const [hinge, peg] = value.parts[0].interfaces!;
      expect(hinge).toMatchObject({ id: 'hinge', at_mm: [34, 3, 6], axis: [0, 0, 1] });
      expect(peg).toMatchObject({ id: 'peg', nominal_mm: 4 });
      [3, 18, 6].forEach((v, k) => expect(peg.at_mm![k]).toBeCloseTo(v, 3));
      [0, 0, 1].forEach((v, k) => expect(peg.axis![k]).toBeCloseTo(v, 5));
      expect(value.assembly).toEqual([{ part: 'shell', translate_mm: [0, 0, 5] }]);
      expect(value.parts[0].unsettled).toBeUndefined();

      const checked = await runCli(['check', `cuff/${to}`, '--json'], repo.folder);
      expect(checked.code).toBe(0);
      expect(checked.out).not.toContain('interface-');
    },
    60_000,
  );

  it.each([
    ['bored', 'rehung'],
    ['rehung', 'bored'],
  ])(
    '%s and %s: the mesh of one is taken as it is, and what the other said of its place comes to its frame',
    async (a, b) => {
      const to = `${a}-taken`;
      const args = ['combine', 'cuff/angle@A', `cuff/${a}@A`, `cuff/${b}@A`, to, '--json'];
      const { code, out, err } = await runCli(args, repo.folder);
      expect([code, err]).toEqual([0, '']);
      const { parts, conflicts } = JSON.parse(out) as { parts: { from: string }[]; conflicts: unknown[] };
      expect([parts[0].from, conflicts]).toEqual([a === 'bored' ? 'a' : 'b', []]);
      const own = (name: string) => path.join(repo.folder, 'devices/cuff', name);
      expect(readFileSync(path.join(own(to), 'parts/shell.stl'))).toEqual(
        readFileSync(path.join(own('bored'), 'parts/shell.stl')),
      );
      const value = parse(readFileSync(path.join(own(to), 'variant.yaml'), 'utf8')) as VariantDocument;
      const interfaces = value.parts[0].interfaces!;
      const named = (id: string) => interfaces.find(item => item.id === id);
      expect(named('hinge')).toMatchObject({ at_mm: [104, -31, 16], axis: [0, -1, 0] });
      expect(named('peg')).toMatchObject({ at_mm: [73, -31, 31] });
      // (20, 0, 6) comes to (20, −6, 0) + shift, the direction −y to −z.
      [90, -31, 13].forEach((v, k) => expect(named('rim')?.at_mm?.[k]).toBeCloseTo(v, 3));
      [0, 0, -1].forEach((v, k) => expect(named('rim')?.axis?.[k]).toBeCloseTo(v, 5));
      // Where the base's stands, turned back, and up by 9 where the base is by 5.
      const [placement] = value.assembly!;
      [-70, -13, -16].forEach((v, k) => expect(placement.translate_mm?.[k]).toBeCloseTo(v, 3));
      // Turned by −90° about x: the same as by 90° about −x.
      const { axis, degrees } = placement.rotate!;
      expect(axis[0] * degrees).toBeCloseTo(-90, 3);
      const checked = await runCli(['check', `cuff/${to}`, '--json'], repo.folder);
      expect(checked.out).not.toContain('interface-');
    },
    60_000,
  );

  it('a mesh that cannot be laid over the base: whose places hold is asked', async () => {
    const args = ['combine', 'cuff/angle@A', 'cuff/slab@A', 'cuff/rehung@A', 'slabbed', '--json'];
    const open = await runCli(args, repo.folder);
    const report = JSON.parse(open.out) as { conflicts: { key: string }[]; written: unknown };
    expect([open.code, report.written]).toEqual([1, null]);
    expect(report.conflicts.map(({ key }) => key)).toContain('parts/shell/frame');
    const settled = await runCli([...args, '--take', 'a'], repo.folder);
    expect(settled.code).toBe(0);
    const file = path.join(repo.folder, 'devices/cuff/slabbed/variant.yaml');
    const value = parse(readFileSync(file, 'utf8')) as VariantDocument;
    expect(value.parts[0].interfaces?.find(({ id }) => id === 'hinge')).toMatchObject({ at_mm: [4, 3, 15] });
    expect(value.assembly).toEqual([{ part: 'shell', translate_mm: [1, 2, 3] }]);
  }, 60_000);
});
