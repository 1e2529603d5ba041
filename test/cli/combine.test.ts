import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import {
  bytesSource,
  concatenate,
  massProperties,
  readMesh,
  transformMesh,
  type Affine,
  type Mesh,
} from '@kinprint/mesh';
import type { Combination } from '@kinprint/compare';
import { loadKernel, subtract, union } from '@kinprint/solid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { boxMesh, mapped, prismMesh, ringPoints } from '../../packages/solid/src/testing/shapes.ts';
import { angle, temporaryFolder, without } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

const folder = temporaryFolder();
afterAll(() => folder.remove());

/** Turned by 20° about z, then moved. */
const motion: Affine = [
  [Math.cos(Math.PI / 9), -Math.sin(Math.PI / 9), 0, 35],
  [Math.sin(Math.PI / 9), Math.cos(Math.PI / 9), 0, -12],
  [0, 0, 1, 4],
  [0, 0, 0, 1],
];

/** A cuff of 28 mm inside, 3 mm thick, open to one side, with a pad at its back. */
beforeAll(async () => {
  const kernel = await loadKernel();
  const disk = (r: number, z0: number, z1: number) => prismMesh(ringPoints(64, r), z0, z1);
  const cuff = subtract(
    kernel,
    subtract(kernel, disk(17, 0, 40), disk(14, -1, 41)),
    boxMesh([8, -7, -1], [20, 7, 41]),
  );
  const base = union(kernel, [cuff, boxMesh([-22, -6, 10], [-16, 6, 30])]);
  /** A rod along y, at x and z. */
  const rod = (r: number, x: number, z: number) =>
    mapped(prismMesh(ringPoints(32, r), -30, 0), ([px, py, pz]) => [px + x, pz, z - py]);
  const vented = subtract(kernel, base, rod(3, 0, 20));
  folder.write('shell.stl', base);
  folder.write('same.stl', base);
  folder.write('pad.stl', union(kernel, [base, boxMesh([-26, -6, 14], [-21, 6, 26])]));
  folder.write('vented.stl', vented);
  folder.write('vented-moved.stl', transformMesh(vented, motion));
  folder.write('window.stl', subtract(kernel, base, rod(5, 1, 21)));
  folder.write(
    'inches.stl',
    mapped(vented, ([x, y, z]) => [x / 25.4, y / 25.4, z / 25.4]),
  );
  folder.write(
    'larger.stl',
    mapped(vented, ([x, y, z]) => [1.12 * x, 1.12 * y, 1.12 * z]),
  );
  folder.write('ball.stl', boxMesh([0, 0, 0], [90, 3, 70]));
  folder.write('empty.stl', { positions: new Float64Array(0), triangles: new Uint32Array(0) });
  folder.write('open.stl', without(vented, 2));
  // An angle with a boss to one side, and its mirror image with a bore.
  const handed = union(kernel, [angle(40, 25, 6, 12), boxMesh([30, 2, 10], [36, 8, 18])]);
  folder.write('handed.stl', handed);
  const drilled = subtract(kernel, handed, boxMesh([1, 18, -1], [3, 20, 13]));
  const mirror: Affine = [
    [-1, 0, 0, 0],
    [0, 1, 0, 0],
    [0, 0, 1, 0],
    [0, 0, 0, 1],
  ];
  folder.write('mirror.stl', transformMesh(drilled, mirror));
  // A bar that each remix cuts from one side, down to a web of 1 mm.
  const bar = boxMesh([0, 0, 0], [60, 10, 10]);
  folder.write('bar.stl', bar);
  folder.write('cut-below.stl', subtract(kernel, bar, boxMesh([28, -1, -1], [32, 11, 5.5])));
  folder.write('cut-above.stl', subtract(kernel, bar, boxMesh([28, -1, 4.5], [32, 11, 11])));
}, 60_000);

async function combined(...args: string[]): Promise<{ code: number; json: Combination }> {
  const { code, out, err } = await runCli(['combine', '--json', ...args], folder.path);
  expect(err).toBe('');
  const json = JSON.parse(out) as Combination;
  expect(objections('combine', json)).toEqual([]);
  return { code, json };
}

function read(name: string): Mesh {
  return readMesh(bytesSource(readFileSync(path.join(folder.path, name)))).objects[0].mesh;
}
const volume = (name: string) => massProperties(read(name)).volume;

describe('kinprint combine', () => {
  it('puts the changes of both on the base, and proves it on the file: inclusion and exclusion', async () => {
    const { code, json } = await combined('shell.stl', 'pad.stl', 'vented.stl', '-o', 'both.stl');
    expect(code).toBe(0);
    expect(json.conflicts).toEqual([]);
    expect(json.changes.map(change => [change.id, change.kind, change.fate])).toEqual([
      ['a1', 'added', 'taken'],
      ['b1', 'removed', 'taken'],
    ]);
    // 4 × 12 × 12 mm beyond the old pad.
    expect(json.changes[0].volume_mm3).toBeCloseTo(576, 2);
    expect(json.proof).toMatchObject({ holds: true, watertight: true, bodies: { found: 1 } });
    const sum = volume('pad.stl') + volume('vented.stl') - volume('shell.stl');
    expect(volume('both.stl')).toBeCloseTo(sum, 1);
    const back = await combined('shell.stl', 'vented.stl', 'pad.stl', '-o', 'back.stl');
    expect(back.code).toBe(0);
    expect(readFileSync(path.join(folder.path, 'back.stl'))).toEqual(
      readFileSync(path.join(folder.path, 'both.stl')),
    );
  }, 60_000);

  it('finds the same when a remix was exported somewhere else in space', async () => {
    const { code, json } = await combined('shell.stl', 'pad.stl', 'vented-moved.stl', '-o', 'moved.3mf');
    expect(code).toBe(0);
    expect(json.b.alignment.kind).toBe('rigid');
    expect(json.b.alignment.rotation_deg).toBeCloseTo(20, 3);
    const there = volume('moved.3mf');
    expect(there).toBeCloseTo(volume('pad.stl') + volume('vented.stl') - volume('shell.stl'), 1);
    const compared = await runCli(
      ['compare', '--json', '--as-placed', '--tolerance', '0.005', 'both.stl', 'moved.3mf'],
      folder.path,
    );
    expect(JSON.parse(compared.out)).toMatchObject({ verdict: 'same-shape' });
  }, 60_000);

  it('gives the other side, triangle for triangle, when one changed nothing', async () => {
    const { json } = await combined('shell.stl', 'same.stl', 'vented.stl', '-o', 'copy.stl');
    expect(json.result?.same_as).toBe('b');
    expect(read('copy.stl')).toEqual(read('vented.stl'));
  }, 60_000);

  it('names a conflict and writes nothing, until a person chooses', async () => {
    const open = await combined('shell.stl', 'vented.stl', 'window.stl', '-o', 'settled.stl');
    expect(open.code).toBe(1);
    expect(open.json).toMatchObject({ result: null, proof: null, files: { written: null } });
    expect(open.json.conflicts).toMatchObject([
      { number: 1, kind: 'both-removed', changes: { a: ['a1'], b: ['b1'] }, take: null, gap_mm: 0 },
    ]);
    expect(existsSync(path.join(folder.path, 'settled.stl'))).toBe(false);

    const wanted = { a: 'vented.stl', b: 'window.stl', both: 'window.stl', none: 'shell.stl' } as const;
    for (const [take, like] of Object.entries(wanted)) {
      const { code, json } = await combined(
        'shell.stl',
        'vented.stl',
        'window.stl',
        '-o',
        'settled.stl',
        '--take',
        `1=${take}`,
      );
      expect(code).toBe(0);
      expect(json.conflicts[0].take).toBe(take);
      // The small bore lies within the large one.
      expect(volume('settled.stl')).toBeCloseTo(volume(like), 1);
    }
  }, 120_000);

  it('says in words that a bore was only tessellated anew, and what tolerance settles it', async () => {
    const kernel = await loadKernel();
    const plate = (sides: number) =>
      subtract(
        kernel,
        boxMesh([0, 0, 0], [40, 20, 5]),
        mapped(prismMesh(ringPoints(sides, 4), -1, 6), ([x, y, z]) => [x + 20, y + 10, z]),
      );
    folder.write('coarse.stl', plate(32));
    folder.write('finer.stl', union(kernel, [plate(56), boxMesh([1, 1, 4], [4, 4, 8])]));
    folder.write('facet-stud.stl', union(kernel, [plate(32), boxMesh([36, 1, 4], [39, 4, 8])]));
    const args = ['combine', 'coarse.stl', 'finer.stl', 'facet-stud.stl'];
    const { out } = await runCli([...args, '--json'], folder.path);
    const found = JSON.parse(out) as Combination;
    expect(objections('combine', found)).toEqual([]);
    // Two circles' chords leave their circle by r (1 − cos π/n), and are apart by no more: 0.0193 mm at 32 sides.
    expect(found.tessellated?.within_mm).toBeLessThan(4 * (1 - Math.cos(Math.PI / 32)) + 1e-6);
    expect(found.tessellated).toMatchObject({ tolerance_mm: 0.02, places: found.changes.length - 2 });
    const told = await runCli(args, folder.path);
    expect(told.out).toMatch(/facets +\d+ places differ by no more than 0\.01\d mm anywhere/);
    expect(told.out).toContain('--tolerance 0.02');
    const settled = await runCli([...args, '--tolerance', '0.02', '--json'], folder.path);
    const after = JSON.parse(settled.out) as Combination;
    expect([settled.code, after.tessellated, after.changes.length]).toEqual([0, null, 2]);
  }, 60_000);

  it('names a mesh that crosses itself, and writes nothing', async () => {
    const bar = boxMesh([0, 0, 0], [40, 20, 5]);
    const positions = Float64Array.from(bar.positions);
    // One corner pulled through the opposite side.
    for (let k = 0; k < positions.length; k += 3)
      if (positions[k] === 40 && positions[k + 1] === 20 && positions[k + 2] === 5)
        positions.set([-10, -5, -6], k);
    folder.write('block.stl', bar);
    folder.write('bow.stl', { ...bar, positions });
    const args = ['combine', 'block.stl', 'bow.stl', 'block.stl', '-o', 'never.stl'];
    const { code, out } = await runCli(args, folder.path);
    expect(code).toBe(1);
    expect(out.replace(/\s+/g, ' ')).toMatch(
      /the surface of the result crosses itself in \d+ places?, first at \(/,
    );
    expect(out.replace(/\s+/g, ' ')).toContain('so does A (');
    expect(existsSync(path.join(folder.path, 'never.stl'))).toBe(false);
  });

  it('names it before a person chooses, too', async () => {
    const kernel = await loadKernel();
    const bar = boxMesh([0, 0, 0], [40, 20, 5]);
    const stud = (from: number, to: number) => boxMesh([from, 8, 4], [to, 12, 8]);
    const left = union(kernel, [bar, stud(16, 24)]);
    const right = union(kernel, [bar, stud(18, 26)]);
    // A second shell that passes through the first.
    const crossing = concatenate([right, boxMesh([5, 5, 3], [9, 9, 7])]);
    folder.write('bar-plain.stl', bar);
    folder.write('stud-left.stl', left);
    folder.write('stud-crossing.stl', crossing);
    const args = ['combine', 'bar-plain.stl', 'stud-left.stl', 'stud-crossing.stl'];
    const { code, out } = await runCli(args, folder.path);
    expect(code).toBe(1);
    expect(out.replace(/\s+/g, ' ')).toMatch(/note B crosses itself in \d+ places, first at \(\d\.\d\d, /);
    const { json } = await combined('bar-plain.stl', 'stud-left.stl', 'stud-crossing.stl');
    expect(objections('combine', json)).toEqual([]);
    expect(json.notes.filter(({ code: name }) => name === 'crosses-itself')).toMatchObject([{ about: 'b' }]);
  });

  it('says so when the result would fall apart, and does not write it', async () => {
    const { code, json } = await combined(
      'bar.stl',
      'cut-below.stl',
      'cut-above.stl',
      '-o',
      'apart.stl',
      '--take',
      'both',
    );
    expect(code).toBe(1);
    expect(json.proof).toMatchObject({ holds: false, bodies: { found: 2, least: 1, most: 1, holds: false } });
    expect(json.proof?.changes.every(change => change.holds)).toBe(true);
    expect(existsSync(path.join(folder.path, 'apart.stl'))).toBe(false);
    const { out } = await runCli(
      ['combine', 'bar.stl', 'cut-below.stl', 'cut-above.stl', '--take', 'both'],
      folder.path,
    );
    expect(out).toContain('the result is in 2 bodies');
  }, 60_000);

  it.each([
    [['shell.stl', 'pad.stl', 'inches.stl'], /inches\.stl: .*another unit.*\n.*millimeters/],
    [['shell.stl', 'pad.stl', 'larger.stl'], /larger\.stl: .*another size \(1\.12 to 1\)/],
    [['handed.stl', 'handed.stl', 'mirror.stl'], /mirror\.stl: .*mirror image/],
    [['shell.stl', 'pad.stl', 'ball.stl'], /ball\.stl: .*too little in common/],
    [['shell.stl', 'pad.stl', 'open.stl'], /open\.stl: /],
    [['shell.stl', 'pad.stl', 'empty.stl'], /empty\.stl: It has no faces\.\n.*[Ee]xport/],
    [['shell.stl', 'pad.stl', 'nowhere.stl'], /nowhere\.stl/],
    [['shell.stl', 'pad.stl', '.'], /folder/],
    [['shell.stl', 'pad.stl', 'vented.stl', '--take', 'maybe'], /does not know 'maybe'/],
    [['shell.stl', 'pad.stl', 'vented.stl', '--take', '3=a'], /no conflict '3'/],
    [['shell.stl', 'pad.stl', 'vented.stl', '-o', 'pad.stl'], /would overwrite/],
    [['shell.stl', 'pad.stl', 'vented.stl', '-o', 'out.obj'], /STL or 3MF/],
  ])(
    '%j is wrong use, with a remedy',
    async (args, message) => {
      const { code, out, err } = await runCli(['combine', ...args], folder.path);
      expect(code).toBe(2);
      expect(out).toBe('');
      expect(err).toMatch(message);
    },
    60_000,
  );

  it('fits 80 columns', async () => {
    for (const args of [
      ['shell.stl', 'pad.stl', 'vented-moved.stl'],
      ['shell.stl', 'vented.stl', 'window.stl'],
    ]) {
      const { out } = await runCli(['combine', ...args], folder.path);
      expect(Math.max(...out.split('\n').map(line => [...line].length))).toBeLessThanOrEqual(80);
    }
  }, 60_000);
});
