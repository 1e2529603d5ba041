import { afterAll, describe, expect, it } from 'vitest';
import { box, temporaryFolder, without } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

const folder = temporaryFolder();
afterAll(() => folder.remove());
folder.write('box.stl', box(20, 30, 50));
folder.write('open.stl', without(box(20, 30, 50), 1));
folder.write('short.stl', new Uint8Array(100));
folder.write('text.stl', 'solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\n<<<<<<< ours\nvertex 1 0 0\n');

interface Measured {
  readonly volume_mm3: number | null;
  readonly area_mm2: number;
  readonly triangles: number;
  readonly vertices: number;
  readonly inertia_mm5: number[][];
  readonly soundness: {
    readonly watertight: boolean;
    readonly boundary_edges: number;
    readonly boundary_loops: number;
  };
  readonly notes: { readonly code: string; readonly about?: string }[];
}

describe('kinprint measure', () => {
  it('gives the closed-form figures of a box (handbook: abc, 2(ab+bc+ca), m(b²+c²)/12)', async () => {
    const { code, out, err } = await runCli(['measure', '--json', 'box.stl'], folder.path);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const m = JSON.parse(out) as Measured;
    expect(objections('measure', m)).toEqual([]);
    expect(m).toMatchObject({
      triangles: 12,
      vertices: 8,
      unit: 'millimeter',
      unit_assumed: true,
      shells: 1,
      genus: 0,
    });
    expect(m.volume_mm3).toBeCloseTo(30000, 6);
    expect(m.area_mm2).toBeCloseTo(6200, 6);
    expect(m.inertia_mm5[0]?.[0]).toBeCloseTo(8.5e6, 2);
    expect(m.inertia_mm5[2]?.[2]).toBeCloseTo(3.25e6, 2);
  });

  it('gives an array for several files', async () => {
    const { code, out } = await runCli(['measure', '--json', 'box.stl', 'box.stl'], folder.path);
    expect(code).toBe(0);
    const list = JSON.parse(out) as Measured[];
    expect(objections('measure', list)).toEqual([]);
    expect(list).toHaveLength(2);
  });

  it('gives what has a meaning of an open mesh, says what has none, and exits with 2', async () => {
    const { code, out, err } = await runCli(['measure', '--json', 'open.stl'], folder.path);
    expect(code).toBe(2);
    expect(err).toContain('open.stl');
    const m = JSON.parse(out) as Measured;
    expect(objections('measure', m)).toEqual([]);
    expect(m.volume_mm3).toBeNull();
    expect(m.soundness).toMatchObject({ watertight: false, boundary_edges: 3, boundary_loops: 1 });
    expect(m.notes.some(n => n.about === 'volume_mm3')).toBe(true);
    expect(m.area_mm2).toBeGreaterThan(0);
  });

  it('scales by the unit asked for', async () => {
    const { out } = await runCli(['measure', '--json', '--unit', 'inch', 'box.stl'], folder.path);
    const m = JSON.parse(out) as Measured;
    expect(m).toMatchObject({ unit: 'inch', unit_assumed: false });
    expect((m.volume_mm3 ?? 0) / (30000 * 25.4 ** 3)).toBeCloseTo(1, 9);
  });

  it('measures the others when one cannot be read, and says which and what to do', async () => {
    const { code, out, err } = await runCli(
      ['measure', '--json', 'short.stl', 'text.stl', 'none.stl', 'box.stl'],
      folder.path,
    );
    expect(code).toBe(2);
    expect(JSON.parse(out)).toHaveLength(1);
    expect(err).toContain('short.stl');
    expect(err).toMatch(/text\.stl:5/);
    expect(err).toMatch(/merge/i);
    expect(err).toContain('none.stl');
  });

  it('fits 80 columns', async () => {
    const { out } = await runCli(['measure', 'box.stl'], folder.path);
    expect(Math.max(...out.split('\n').map(line => [...line].length))).toBeLessThanOrEqual(80);
    expect(out).toContain('30000.00 mm³');
  });

  it('answers wrong use with 2', async () => {
    expect((await runCli(['measure'], folder.path)).code).toBe(2);
    expect((await runCli(['measure', '--up', 'sideways', 'box.stl'], folder.path)).code).toBe(2);
    expect((await runCli(['frobnicate'], folder.path)).code).toBe(2);
    expect((await runCli(['measure', '--help'], folder.path)).code).toBe(0);
  });
});
