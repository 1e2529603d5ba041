import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import type { Mesh } from '../types.ts';
import { writeStlBinary } from '../write/stl-binary.ts';
import { readMesh } from './read-mesh.ts';

const tetrahedron: Mesh = {
  positions: Float32Array.of(0, 0, 0, 10, 0, 0, 0, 10, 0, 0, 0, 10),
  triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3),
};

/** The one-facet example of the format's reference facts, padded header before it. */
const oneFacet =
  '0100000000000000000000000000803f0000000000000000000000000000803f0000000000000000000000000000803f000000000000';

function file(header: string, tailHex: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(80 + tailHex.length / 2);
  new TextEncoder().encodeInto(header, bytes);
  for (let i = 80; i < bytes.length; i++)
    bytes[i] = parseInt(tailHex.slice(2 * (i - 80), 2 * (i - 80) + 2), 16);
  return bytes;
}

const read = (bytes: Uint8Array) => readMesh(bytesSource(bytes));
const codes = (bytes: Uint8Array) => read(bytes).notes.map(note => note.code);

function facetCount(bytes: Uint8Array<ArrayBuffer>, count: number): Uint8Array<ArrayBuffer> {
  const copy = bytes.slice();
  new DataView(copy.buffer).setUint32(80, count, true);
  return copy;
}

function setFloat(
  bytes: Uint8Array<ArrayBuffer>,
  facet: number,
  value: number,
  place: number,
): Uint8Array<ArrayBuffer> {
  const copy = bytes.slice();
  new DataView(copy.buffer).setFloat32(84 + 50 * facet + 12 + 4 * place, value, true);
  return copy;
}

describe('binary STL', () => {
  it('reads the published example of one facet', () => {
    const { format, objects } = read(file('one facet', oneFacet));
    expect(format).toBe('stl-binary');
    expect([...objects[0].mesh.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
    expect([...objects[0].mesh.triangles]).toEqual([0, 1, 2]);
  });

  it('is binary though its header begins with "solid"', () => {
    expect(read(file('solid part\nfacet normal', oneFacet)).format).toBe('stl-binary');
  });

  it('gives back what was written, welded in the order of first use', () => {
    const again = read(writeStlBinary(tetrahedron)).objects[0].mesh;
    expect([...again.positions]).toEqual([0, 0, 0, 0, 10, 0, 10, 0, 0, 0, 0, 10]);
    expect([...again.triangles]).toEqual([0, 1, 2, 0, 2, 3, 2, 1, 3, 1, 0, 3]);
    expect([...writeStlBinary(again)]).toEqual([...writeStlBinary(tetrahedron)]);
  });

  it('keeps any facets through writing and reading (property)', () => {
    const coordinate = fc.float({ noNaN: true, noDefaultInfinity: true });
    fc.assert(
      fc.property(
        fc.array(fc.array(coordinate, { minLength: 9, maxLength: 9 }), { minLength: 1 }),
        facets => {
          const positions = Float32Array.from(facets.flat());
          const triangles = Uint32Array.from(positions.subarray(0, positions.length / 3), (_, i) => i);
          const { mesh } = read(writeStlBinary({ positions, triangles })).objects[0];
          const soup = [...mesh.triangles].flatMap(v => [...mesh.positions.subarray(3 * v, 3 * v + 3)]);
          expect(soup).toEqual([...positions].map(x => x + 0));
          const distinct = new Set(soup.map((_, i) => (i % 3 === 0 ? soup.slice(i, i + 3).join() : '')));
          distinct.delete('');
          expect(mesh.positions.length / 3).toBe(distinct.size);
        },
      ),
    );
  });

  it('takes −0 for 0 when welding', () => {
    const bytes = setFloat(file('', oneFacet + oneFacet.slice(8)), 1, -0, 2);
    const { mesh } = read(facetCount(bytes, 2)).objects[0];
    expect(mesh.positions.length).toBe(9);
    expect([...mesh.positions].some(x => Object.is(x, -0))).toBe(false);
  });

  it('reads by size when the count is 0 or too small, and says so', () => {
    const bytes = writeStlBinary(tetrahedron);
    for (const count of [0, 1, 3]) {
      const result = read(facetCount(bytes, count));
      expect(result.objects[0].mesh.triangles.length).toBe(12);
      expect(result.notes.map(note => note.code)).toContain('stl-count-wrong');
    }
  });

  it('ignores trailing bytes, whole records of padding included, and says so', () => {
    for (const extra of [1, 49, 50, 100, 7777]) {
      const bytes = new Uint8Array(284 + extra);
      bytes.set(writeStlBinary(tetrahedron));
      const result = read(bytes);
      expect(result.objects[0].mesh.triangles.length).toBe(12);
      expect(result.notes.map(note => note.code)).toContain('stl-trailing-bytes');
    }
  });

  it('says how many facets a truncated file lacks', () => {
    const bytes = writeStlBinary(tetrahedron);
    const message = (size: number) => () => read(bytes.slice(0, size));
    expect(message(283)).toThrow(/1 facets are missing/);
    expect(message(183)).toThrow(/3 facets are missing/);
    expect(() => read(facetCount(file('', oneFacet), 0xffffffff))).toThrow(/214748364834 bytes/);
  });

  it('drops facets with a corner that is not finite and names them', () => {
    for (const bad of [NaN, Infinity, -Infinity]) {
      const result = read(setFloat(writeStlBinary(tetrahedron), 2, bad, 4));
      expect(result.objects[0].mesh.triangles.length).toBe(9);
      expect(result.notes.find(note => note.code === 'facets-dropped')?.text).toContain('1 of 4 facets');
      expect(result.notes.find(note => note.code === 'facets-dropped')?.text).toContain('(facet 3)');
    }
    expect(() => read(setFloat(file('', oneFacet), 0, NaN, 0))).toThrow(/none of the 1 facets/);
  });

  it('notes attribute bytes', () => {
    const bytes = writeStlBinary(tetrahedron);
    bytes[84 + 48] = 7;
    expect(codes(bytes)).toContain('stl-attributes');
    expect(codes(writeStlBinary(tetrahedron))).not.toContain('stl-attributes');
  });

  it('scales to millimeters in double precision', () => {
    const inches = readMesh(bytesSource(writeStlBinary(tetrahedron)), { unit: 'inch' });
    expect(inches).toMatchObject({ unit: 'inch', unitAssumed: false });
    expect(Math.max(...inches.objects[0].mesh.positions)).toBe(254);
    expect(read(writeStlBinary(tetrahedron))).toMatchObject({ unit: 'millimeter', unitAssumed: true });
  });
});
