import { describe, expect, it } from 'vitest';
import type { Mesh } from '../types.ts';
import { writeStlBinary } from './stl-binary.ts';

const facet: Mesh = {
  positions: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0),
  triangles: Uint32Array.of(0, 1, 2),
};
const hex = (bytes: Uint8Array) => [...bytes].map(byte => byte.toString(16).padStart(2, '0')).join('');

describe('writeStlBinary', () => {
  it('writes the example of the format, byte for byte', () => {
    const bytes = writeStlBinary(facet, 'one facet');
    expect(bytes.length).toBe(134);
    expect(new TextDecoder().decode(bytes.subarray(0, 10))).toBe('one facet\0');
    // One facet of the reference facts on the format.
    expect(hex(bytes.subarray(80))).toBe(
      '0100000000000000000000000000803f0000000000000000000000000000803f0000000000000000000000000000803f000000000000',
    );
  });

  it('gives faces without area the normal 0', () => {
    const flat: Mesh = {
      positions: Float64Array.of(0, 0, 0, 1, 1, 1, 2, 2, 2),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect([...new Float32Array(writeStlBinary(flat).slice(84, 96).buffer)]).toEqual([0, 0, 0]);
  });

  it.each(['solid part', '  SOLID', 'x'.repeat(81), 'größe', 'two\nlines'])(
    'refuses the header %j',
    header => {
      expect(() => writeStlBinary(facet, header)).toThrow(/header/);
    },
  );

  it.each([NaN, Infinity, 1e39])('refuses the coordinate %d', value => {
    const positions = facet.positions.slice();
    positions[4] = value;
    expect(() => writeStlBinary({ ...facet, positions })).toThrow(/32-bit float/);
  });
});
