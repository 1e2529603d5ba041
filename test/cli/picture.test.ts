import { readFileSync } from 'node:fs';
import path from 'node:path';
import { decode } from 'fast-png';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeRepository } from '../../tools/demo/make-repository.ts';
import { demoRegistry } from '../support/demo-registry.ts';
import { angle, box, temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

const folder = temporaryFolder();
afterAll(() => folder.remove());
folder.write('box.stl', box(40, 20, 10));
folder.write('angle.stl', angle(40, 30, 5, 10));
folder.write('longer.stl', angle(40, 36, 5, 10));
folder.write('short.stl', new Uint8Array(100));
folder.write('empty.stl', { positions: new Float64Array(0), triangles: new Uint32Array(0) });

const run = (...args: string[]) => runCli(['picture', ...args], folder.path);
const file = (name: string) => readFileSync(path.join(folder.path, name));

interface Told {
  readonly kind: string;
  readonly verdict?: string;
  readonly width_px: number;
  readonly height_px: number;
  readonly size_mm?: readonly number[];
  readonly parts?: readonly string[];
  readonly placed?: readonly string[];
  readonly unplaced?: readonly string[];
  readonly views: readonly { readonly from: string; readonly pixels_per_mm: number }[];
  readonly call_outs?: readonly { readonly kind: string; readonly what: string; readonly amount: string }[];
  readonly deviation_limit_mm?: number | null;
}

async function told(...args: string[]): Promise<Told> {
  const { code, out, err } = await run(...args, '--json');
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const answer = JSON.parse(out) as Told;
  expect(objections('picture', answer)).toEqual([]);
  return answer;
}

describe('kinprint picture', () => {
  it('draws a part, of the size that was asked for', async () => {
    const answer = await told('box.stl', '-o', 'box.png', '--size', '640x480');
    expect(answer).toMatchObject({ kind: 'part', width_px: 640, height_px: 480, size_mm: [40, 20, 10] });
    const { width, height, channels } = decode(file('box.png'));
    expect({ width, height, channels }).toEqual({ width: 640, height: 480, channels: 3 });
  });

  it('draws the same bytes again', async () => {
    await told('box.stl', '-o', 'one.png');
    await told('box.stl', '-o', 'two.png');
    expect(file('one.png').equals(file('two.png'))).toBe(true);
  });

  it('looks from where it is told to', async () => {
    const answer = await told('box.stl', '-o', 'top.svg', '--from', 'top');
    expect(answer.views[0].from).toBe('top');
    expect(file('top.svg').toString()).toContain('seen from the top');
  });

  it('draws what changed: one leg longer by 6 mm, of 5 × 10', async () => {
    const answer = await told('longer.stl', '--against', 'angle.stl', '-o', 'change.png');
    expect(answer).toMatchObject({ kind: 'change', verdict: 'reworked', deviation_limit_mm: 6 });
    expect(answer.call_outs).toHaveLength(1);
    expect(answer.call_outs?.[0].kind).toBe('added');
    expect(answer.call_outs?.[0].amount).toContain('+300.00 mm³');
    const { width, height } = decode(file('change.png'));
    expect([width, height]).toEqual([answer.width_px, answer.height_px]);
  });

  it('draws one row where nothing was added or removed', async () => {
    const answer = await told('box.stl', '--against', 'box.stl', '-o', 'same.svg');
    expect(answer).toMatchObject({ verdict: 'identical', deviation_limit_mm: null, call_outs: [] });
    expect(answer.height_px).toBeLessThan(700);
  });

  it('says what it wrote, within 80 columns', async () => {
    const { code, out } = await run('longer.stl', '--against', 'angle.stl', '-o', 'change.svg');
    expect(code).toBe(0);
    expect(out).toContain('change.svg');
    expect(out).toContain('reworked');
    expect(Math.max(...out.split('\n').map(line => [...line].length))).toBeLessThanOrEqual(80);
  });

  it('draws of a file without faces that there are none', async () => {
    const { code, out } = await run('empty.stl', '-o', 'empty.png');
    expect({ code, faces: out.includes('no faces') }).toEqual({ code: 0, faces: true });
    expect(decode(file('empty.png')).width).toBe(1200);
  });

  it.each([
    [['box.stl'], /output/],
    [['box.stl', '-o', 'box.jpg'], /\.png or \.svg/],
    [['box.stl', '-o', 'x.png', '--size', 'large'], /1200x900/],
    [['box.stl', '-o', 'x.png', '--size', '99999x9'], /4096x4096/],
    [['box.stl', '-o', 'x.png', '--size', '10x10'], /240x180/],
    [['longer.stl', '--against', 'angle.stl', '-o', 'x.png', '--size', '300x200'], /900x640/],
    [['box.stl', '-o', 'x.png', '--from', 'sideways'], /front-right/],
    [['longer.stl', '--against', 'angle.stl', '-o', 'x.png', '--from', 'top'], /--from/],
    [['none.stl', '-o', 'x.png'], /none\.stl/],
    [['short.stl', '-o', 'x.png'], /short\.stl/],
    [['box.stl', '--against', 'short.stl', '-o', 'x.png'], /short\.stl/],
    [['box.stl', '-o', 'no/such/folder/x.png'], /cannot be written/],
    [['cuff/left', '-o', 'x.png'], /registry/],
  ] as const)('wrong use is answered with 2 and a remedy: %j', async (args, words) => {
    const { code, err } = await run(...args);
    expect(code).toBe(2);
    expect(err).toMatch(words);
    expect(() => file('x.png')).toThrow();
  });
});

describe('of the demo', () => {
  beforeAll(async () => {
    await makeRepository(path.join(folder.path, 'meshes'));
    await demoRegistry(path.join(folder.path, 'registry'));
  }, 240_000);

  it('the parts of a variant put together, by name', { timeout: 60_000 }, async () => {
    const answer = await told('utensil-cuff/right-58', '--registry', 'registry', '-o', 'together.svg');
    expect(answer).toMatchObject({
      kind: 'assembly',
      placed: ['shell', 'leaf', 'sleeve'],
      unplaced: ['buckle', 'clip'],
    });
    expect(file('together.svg').toString()).toContain('not placed: buckle, clip');
    // A letter is drawn as it was recorded.
    const older = await told('utensil-cuff/right-58@A', '--registry', 'registry', '-o', 'older.png');
    expect(older.kind).toBe('assembly');
  });

  it('all parts of a variant side by side, and one that places none', { timeout: 60_000 }, async () => {
    const answer = await told(
      'utensil-cuff/right-58',
      '--side-by-side',
      '--registry',
      'registry',
      '-o',
      'parts.png',
    );
    expect(answer.kind).toBe('parts');
    expect(answer.parts).toContain('utensil-cuff/right-58/shell');
    expect((await told('pen-cuff/right-64', '--registry', 'registry', '-o', 'pen.png')).kind).toBe('parts');
  });

  it('a part against an earlier letter: narrower bores are called out', { timeout: 60_000 }, async () => {
    const answer = await told(
      ...['utensil-cuff/right-58/shell', '--against', 'utensil-cuff/right-58@A/shell'],
      ...['--registry', 'registry', '-o', 'letters.png'],
    );
    expect(answer.call_outs?.filter(each => each.what === 'bore ⌀3.20 → ⌀3.00')).toHaveLength(2);
  });

  it('a file of two revisions', { timeout: 60_000 }, async () => {
    const shell = 'parts/shell-right.stl';
    const answer = await told(
      ...['--repo', 'meshes', `rev-B:${shell}`, '--against', `rev-A:${shell}`, '-o', 'revisions.png'],
    );
    expect(answer.verdict).toBe('reworked');
    expect(answer.views).toHaveLength(2);
  });

  it('names the parts where one is needed, and letters that there are', async () => {
    const many = await run(
      ...[
        'utensil-cuff/right-58',
        '--against',
        'utensil-cuff/right-58@A',
        '--registry',
        'registry',
        '-o',
        'x.png',
      ],
    );
    expect(many.code).toBe(2);
    expect(many.err).toContain('utensil-cuff/right-58/shell');
    const letter = await run('utensil-cuff/right-58@Z/shell', '--registry', 'registry', '-o', 'x.png');
    expect(letter.code).toBe(2);
    const part = await run('utensil-cuff/right-58@A/handle', '--registry', 'registry', '-o', 'x.png');
    expect(part.code).toBe(2);
    expect(part.err).toContain('shell');
    const tree = await run('--repo', 'meshes', 'rev-B', '-o', 'x.png');
    expect(tree.code).toBe(2);
    expect(tree.err).toContain('REV:path');
  });
});
