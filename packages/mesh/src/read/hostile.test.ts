import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import { box } from '../testing/shapes.ts';
import { modelOf, packageOf, tetrahedronXml } from '../testing/three-mf-package.ts';
import { writeStlBinary } from '../write/stl-binary.ts';
import { writeThreeMf } from '../write/three-mf.ts';
import { readMesh } from './read-mesh.ts';

const encode = (text: string) => new TextEncoder().encode(text);

const textStl =
  'solid a b\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1e-1 .5\nendloop\nendfacet\n' +
  'facet normal nan 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid\n';
const obj = 'o a\nv 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf 1 2 3 4\nf -1/1 -2//3 \\\n-3/1/2\ng b\nl 1 2\n';
const plyHead = (format: string) =>
  `ply\nformat ${format} 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\n` +
  `element face 1\nproperty list uchar int vertex_indices\nend_header\n`;
const plyBinary = (format: string) =>
  Uint8Array.of(...encode(plyHead(format)), ...new Uint8Array(36), 3, ...new Uint8Array(12));
const model = modelOf(
  `<object id="1" name="a">${tetrahedronXml()}</object><object id="2"><components><component objectid="1"` +
    ` transform="-1 0 0 0 1 0 0 0 1 0 0 0"/></components></object>`,
  '<item objectid="2"/>',
);

const samples: Record<string, Uint8Array> = {
  'binary STL': writeStlBinary(box(1, 2, 3)),
  'text STL': encode(textStl),
  OBJ: encode(obj),
  'text PLY': encode(`${plyHead('ascii')}0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n`),
  'little PLY': plyBinary('binary_little_endian'),
  'big PLY': plyBinary('binary_big_endian'),
  '3MF': writeThreeMf([{ name: 'a', mesh: box(1, 2, 3) }]),
};

/** Bytes of typed arrays asked for while `action` runs. */
function allocatedBy(action: () => void): number {
  let total = 0;
  const arrays = { Uint8Array, Uint16Array, Int32Array, Uint32Array, Float32Array, Float64Array };
  for (const [name, original] of Object.entries(arrays)) {
    vi.stubGlobal(
      name,
      new Proxy(original, {
        construct(target, args: unknown[]) {
          if (typeof args[0] === 'number') total += args[0] * target.BYTES_PER_ELEMENT;
          return Reflect.construct(target, args) as object;
        },
      }),
    );
  }
  try {
    action();
  } finally {
    vi.unstubAllGlobals();
  }
  return total;
}

/** Reads; only errors of input may come, and memory stays in proportion to the bytes given. */
function expectTame(bytes: Uint8Array): void {
  const allocated = allocatedBy(() => {
    try {
      const file = readMesh(bytesSource(bytes));
      for (const { mesh } of file.objects) {
        const vertices = mesh.positions.length / 3;
        expect(mesh.triangles.every(v => v < vertices)).toBe(true);
        expect(mesh.positions.every(x => Number.isFinite(x) && !Object.is(x, -0))).toBe(true);
      }
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      expect(error.code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      expect(error.message.length).toBeGreaterThan(5);
      expect(error.remedy.length).toBeGreaterThan(5);
    }
  });
  expect(allocated).toBeLessThan((3 << 20) + 400 * bytes.length);
}

const edits = fc.array(
  fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    cut: fc.nat(12),
    put: fc.oneof(
      fc.uint8Array({ maxLength: 6 }),
      fc
        .constantFrom(
          '4294967295',
          '-1',
          '1e400',
          'nan',
          '\n',
          '"',
          '<',
          '\0',
          '\\\n',
          '#',
          '0x',
          '999999999',
        )
        .map(encode),
    ),
  }),
  { minLength: 1, maxLength: 4 },
);

function edited(bytes: Uint8Array, changes: { at: number; cut: number; put: Uint8Array }[]): Uint8Array {
  let result = [...bytes];
  for (const { at, cut, put } of changes) {
    const place = Math.floor(at * result.length);
    result = [...result.slice(0, place), ...put, ...result.slice(place + cut)];
  }
  return Uint8Array.from(result);
}

describe('hostile bytes', () => {
  it('any bytes at all are read or refused (property)', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 600 }), expectTame), { numRuns: 500 });
  });

  it('any text that begins like a known kind is read or refused (property)', () => {
    const starts = [
      'solid ',
      'solid\nfacet normal',
      'ply\nformat ascii 1.0\n',
      'v ',
      'f ',
      'PK\x03\x04',
      'o \\',
    ];
    const words = fc.constantFrom(
      'facet', 'normal', 'outer', 'loop', 'vertex', 'endloop', 'endfacet', 'endsolid', 'solid', 'v', 'f', 'o', '\n',
      '\\', '#', '1', '-1', '0', '2.5', '1e9', 'nan', 'element', 'property', 'list', 'uchar', 'float', 'x', 'y', 'z',
      'face', 'end_header', 'vertex_indices', '/', '1/1', '=======', '<<<<<<<',
    ); // prettier-ignore
    const text = fc.tuple(fc.constantFrom(...starts), fc.array(words, { maxLength: 80 }));
    fc.assert(
      fc.property(text, ([start, rest]) =>
        expectTame(encode(start + rest.join(' ').replaceAll(' \n ', '\n'))),
      ),
      { numRuns: 1500 },
    );
  });

  it.each(Object.keys(samples))('%s with some bytes changed is read or refused (property)', name => {
    expect(() => readMesh(bytesSource(samples[name]))).not.toThrow();
    fc.assert(
      fc.property(edits, changes => expectTame(edited(samples[name], changes))),
      { numRuns: 400 },
    );
  });

  it('a model part with some bytes changed is read or refused (property)', () => {
    fc.assert(
      fc.property(edits, changes => {
        const text = new TextDecoder().decode(edited(encode(model), changes));
        expectTame(packageOf(text));
      }),
      { numRuns: 400 },
    );
  });

  it('every truncation of every kind is read or refused', () => {
    for (const bytes of Object.values(samples)) {
      for (let length = 0; length < bytes.length; length++) expectTame(bytes.slice(0, length));
    }
  });

  it('a count of a hundred million facets costs a message, not memory', () => {
    const bytes = writeStlBinary(box(1, 1, 1));
    new DataView(bytes.buffer).setUint32(80, 100_000_000, true);
    const allocated = allocatedBy(() =>
      expect(() => readMesh(bytesSource(bytes))).toThrow(/99999988 facets are missing/),
    );
    expect(allocated).toBeLessThan(1 << 18);
  });

  it('vertices made to collide do not slow the weld down', () => {
    // Floats whose bits differ in the upper half only, in a regular pattern.
    const facets = 40_000;
    const bytes = new Uint8Array(84 + 50 * facets);
    const view = new DataView(bytes.buffer);
    view.setUint32(80, facets, true);
    for (let i = 0; i < 9 * facets; i++) {
      view.setInt32(84 + 50 * Math.floor(i / 9) + 12 + 4 * (i % 9), (i % 0x7f00) << 16, true);
    }
    const start = performance.now();
    readMesh(bytesSource(bytes));
    expect(performance.now() - start).toBeLessThan(3000);
  });
});
