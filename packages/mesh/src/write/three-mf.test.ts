import { unzipSync } from 'fflate';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { readMesh } from '../read/read-mesh.ts';
import { box, icosphere } from '../testing/shapes.ts';
import type { Mesh, Unit } from '../types.ts';
import { writeThreeMf } from './three-mf.ts';

const read = (bytes: Uint8Array) => readMesh(bytesSource(bytes));
const soup = ({ positions, triangles }: Mesh) =>
  [...triangles].flatMap(v => [...positions.subarray(3 * v, 3 * v + 3)]);
const modelText = (bytes: Uint8Array) => new TextDecoder().decode(unzipSync(bytes)['3D/3dmodel.model']);

describe('writeThreeMf', () => {
  it('reads back as the same doubles, objects and names', () => {
    const objects = [
      { name: 'strap buckle <A & "B">', mesh: icosphere(12.3456789, 2) },
      { name: null, mesh: box(1 / 3, 0.1, 1e-9) },
      { name: 'tab\tand\nline, groß, 𝄞', mesh: box(4, 5, 6) },
    ];
    const file = read(writeThreeMf(objects));
    expect(file).toMatchObject({ format: '3mf', unit: 'millimeter', unitAssumed: false, notes: [] });
    expect(file.objects.map(o => o.name)).toEqual(objects.map(o => o.name));
    file.objects.forEach((o, i) => expect(soup(o.mesh)).toEqual(soup(objects[i].mesh)));
  });

  it('keeps any coordinates and any name (property)', () => {
    const coordinate = fc.double({ min: -1e38, max: 1e38, noNaN: true });
    const points = fc.uniqueArray(fc.tuple(coordinate, coordinate, coordinate), {
      minLength: 4,
      maxLength: 4,
      selector: point => point.map(x => x + 0).join(),
    });
    fc.assert(
      fc.property(points, fc.string({ unit: 'grapheme', minLength: 1, maxLength: 20 }), (corners, name) => {
        const mesh: Mesh = {
          positions: Float64Array.from(corners.flat()),
          triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3),
        };
        const [object] = read(writeThreeMf([{ name, mesh }])).objects;
        expect(soup(object.mesh)).toEqual(soup(mesh).map(x => x + 0));
        expect(object.name).toBe(name);
      }),
    );
  });

  it.each<[Unit, number]>([
    ['inch', 25.4],
    ['micron', 0.001],
    ['meter', 1000],
  ])('writes in %s', (unit, factor) => {
    const bytes = writeThreeMf([{ name: null, mesh: box(25.4, 50.8, 1000) }], { unit });
    expect(modelText(bytes)).toContain(`unit="${unit}"`);
    expect(modelText(bytes)).toMatch(new RegExp(`x="${String(25.4 / factor).replace('.', '\\.')}`));
    const { mesh } = read(bytes).objects[0];
    expect(Math.max(...mesh.positions)).toBeCloseTo(1000, 9);
  });

  it('gives the same bytes every time and in every time zone', () => {
    const objects = [{ name: 'a', mesh: box(1, 2, 3) }];
    const first = writeThreeMf(objects, { title: 'cuff' });
    const zone = process.env['TZ'];
    try {
      for (const other of ['Pacific/Kiritimati', 'America/Los_Angeles']) {
        process.env['TZ'] = other;
        expect(writeThreeMf(objects, { title: 'cuff' })).toEqual(first);
      }
    } finally {
      if (zone === undefined) delete process.env['TZ'];
      else process.env['TZ'] = zone;
    }
  });

  it('has the parts, types and metadata that the specification asks for', () => {
    const bytes = writeThreeMf([{ name: 'a', mesh: box(1, 1, 1) }], {
      title: 'cuff <1>', designer: 'lending group', description: 'd', license: 'CC0-1.0',
    }); // prettier-ignore
    const parts = unzipSync(bytes);
    expect(Object.keys(parts)).toEqual(['[Content_Types].xml', '_rels/.rels', '3D/3dmodel.model']);
    const text = modelText(bytes);
    for (const [name, value] of [
      ['Title', 'cuff &lt;1&gt;'],
      ['Designer', 'lending group'],
      ['LicenseTerms', 'CC0-1.0'],
    ]) {
      expect(text).toContain(`<metadata name="${name}">${value}</metadata>`);
    }
  });

  it('leaves out faces with two equal corners and refuses what cannot be written', () => {
    const { positions } = box(1, 1, 1);
    const mesh: Mesh = { positions, triangles: Uint32Array.of(0, 0, 1, 0, 2, 1) };
    expect(read(writeThreeMf([{ name: null, mesh }])).objects[0].mesh.triangles.length).toBe(3);
    expect(() => writeThreeMf([])).toThrow(/no object/);
    const none: Mesh = { positions, triangles: Uint32Array.of(1, 1, 1) };
    expect(() => writeThreeMf([{ name: null, mesh: none }])).toThrow(/no faces/);
    const wild: Mesh = {
      positions: Float64Array.of(0, 0, NaN, 1, 0, 0, 0, 1, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(() => writeThreeMf([{ name: null, mesh: wild }])).toThrow(/not finite/);
  });
});
