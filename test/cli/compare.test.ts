import { afterAll, describe, expect, it } from 'vitest';
import { angle, box, temporaryFolder, without } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

const folder = temporaryFolder();
afterAll(() => folder.remove());
folder.write('box.stl', box(20, 30, 50));
folder.write('shifted.stl', box(20, 30, 50, [1, 2, 3]));
folder.write('angle.stl', angle(40, 30, 5, 20));
folder.write('longer.stl', angle(50, 30, 5, 20));
folder.write('open.stl', without(box(20, 30, 60), 1));
folder.write('inch.stl', box(20 / 25.4, 30 / 25.4, 50 / 25.4));

interface Compared {
  readonly verdict: string;
  readonly alignment: { readonly kind: string; readonly translation_mm: number[]; readonly scale: number[] };
  readonly deviation: { readonly max_mm: number; readonly max_error_mm: number };
  readonly volume: { readonly added_mm3: number | null; readonly removed_mm3: number | null };
  readonly notes: { readonly code: string }[];
}

async function compared(...args: string[]): Promise<Compared> {
  const { out } = await runCli(['compare', '--json', ...args], folder.path);
  const result = JSON.parse(out) as Compared;
  expect(objections('compare', result)).toEqual([]);
  return result;
}

describe('kinprint compare', () => {
  it('knows the same file', async () => {
    expect(await compared('box.stl', 'box.stl')).toMatchObject({ verdict: 'identical' });
  });

  it('finds a motion, and no change', async () => {
    const c = await compared('box.stl', 'shifted.stl');
    expect(c.verdict).toBe('moved');
    [1, 2, 3].forEach((t, k) => expect(c.alignment.translation_mm[k]).toBeCloseTo(t, 5));
    expect(c.volume).toMatchObject({ added_mm3: 0, removed_mm3: 0 });
  });

  it('compares as placed: shifted boxes have a closed form ((a−dx)(b−dy)(c−dz) in common)', async () => {
    const c = await compared('--as-placed', 'box.stl', 'shifted.stl');
    expect(c.alignment.kind).toBe('identity');
    expect(c.volume.added_mm3).toBeCloseTo(4996, 1);
    expect(c.volume.removed_mm3).toBeCloseTo(4996, 1);
  });

  it('calls an angle with one longer leg a rework, not a scaling (10 × 5 × 20 more)', async () => {
    const c = await compared('angle.stl', 'longer.stl');
    expect(c.verdict).toBe('reworked');
    expect(c.volume.added_mm3).toBeCloseTo(1000, 1);
    expect(c.volume.removed_mm3).toBeCloseTo(0, 3);
    expect(c.deviation.max_mm).toBeCloseTo(10, 3);
  });

  it('tells another unit from another design', async () => {
    const c = await compared('inch.stl', 'box.stl');
    expect(c.verdict).toBe('rescaled');
    expect(c.alignment.scale[0]).toBeCloseTo(25.4, 3);
    expect(c.notes.map(n => n.code)).toContain('unit-factor');
  });

  it('says unsound, and exits with 2, when material cannot be told', async () => {
    const { code, out, err } = await runCli(['compare', '--json', 'box.stl', 'open.stl'], folder.path);
    expect(JSON.parse(out)).toMatchObject({
      verdict: 'unsound',
      volume: { added_mm3: null, removed_mm3: null },
    });
    expect(code).toBe(2);
    expect(err).toContain('open.stl');
  });

  it('is a gate only when asked', async () => {
    expect((await runCli(['compare', 'angle.stl', 'longer.stl'], folder.path)).code).toBe(0);
    expect(
      (await runCli(['compare', '--fail-on', 'reworked,replaced', 'angle.stl', 'longer.stl'], folder.path))
        .code,
    ).toBe(1);
    expect(
      (await runCli(['compare', '--fail-on', 'nonsense', 'angle.stl', 'longer.stl'], folder.path)).code,
    ).toBe(2);
  });

  it('says what to do about wrong use', async () => {
    const range = await runCli(['compare', 'main..topic'], folder.path);
    expect(range.code).toBe(2);
    expect(range.err).toContain('--repo . main..topic');
    const mixed = await runCli(['compare', 'box.stl', '.'], folder.path);
    expect(mixed.code).toBe(2);
    expect(mixed.err).toMatch(/two files, or two folders/);
    expect((await runCli(['compare', '--repo', '.', 'a..b'], folder.path)).code).toBe(2);
  });

  it('fits 80 columns', async () => {
    const { out } = await runCli(['compare', 'angle.stl', 'longer.stl'], folder.path);
    expect(Math.max(...out.split('\n').map(line => [...line].length))).toBeLessThanOrEqual(80);
  });
});
