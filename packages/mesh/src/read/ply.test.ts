import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { MeshFile } from '../types.ts';
import { plyTypeBytes, type PlyType } from './ply-header.ts';
import { readMesh } from './read-mesh.ts';

const read = (bytes: Uint8Array) => readMesh(bytesSource(bytes));
const encode = (text: string) => new TextEncoder().encode(text);
const readText = (text: string) => read(encode(text));
const codes = (file: MeshFile) => file.notes.map(note => note.code);

/** The smallest example of the reference facts on the format. */
const smallest = [
  'ply', 'format ascii 1.0', 'element vertex 3', 'property float x', 'property float y', 'property float z',
  'element face 1', 'property list uchar int vertex_indices', 'end_header', '0 0 0', '2 0 0', '1 2 0', '3 0 1 2',
].join('\n'); // prettier-ignore

function errorOf(bytes: Uint8Array): { code: string; line: number | undefined; byte: number | undefined } {
  try {
    read(bytes);
  } catch (error) {
    if (error instanceof InputError)
      return { code: error.code, line: error.place.line, byte: error.place.byte };
    throw error;
  }
  throw new Error('nothing was thrown');
}

const setters: Record<PlyType, (view: DataView, value: number, little: boolean) => void> = {
  int8: (view, value) => view.setInt8(0, value),
  uint8: (view, value) => view.setUint8(0, value),
  int16: (view, value, little) => view.setInt16(0, value, little),
  uint16: (view, value, little) => view.setUint16(0, value, little),
  int32: (view, value, little) => view.setInt32(0, value, little),
  uint32: (view, value, little) => view.setUint32(0, value, little),
  float32: (view, value, little) => view.setFloat32(0, value, little),
  float64: (view, value, little) => view.setFloat64(0, value, little),
};

/** A binary file: header lines, then numbers with their types. */
function binary(order: 'little' | 'big', header: string, values: [PlyType, number][], lineEnd = '\n') {
  const lines = ['ply', `format binary_${order}_endian 1.0`, ...header.split('\n'), 'end_header', ''];
  const bytes = [...encode(lines.join(lineEnd))];
  for (const [type, value] of values) {
    const view = new DataView(new ArrayBuffer(plyTypeBytes[type]));
    setters[type](view, value, order === 'little');
    bytes.push(...new Uint8Array(view.buffer));
  }
  return Uint8Array.from(bytes);
}

const vertexHeader = (type: string, count = 3) =>
  `element vertex ${count}\nproperty ${type} x\nproperty ${type} y\nproperty ${type} z`;
const places = [0, 0, 0, 2, 0, 0, 1, 2, 0];
const expected = { positions: places, triangles: [0, 1, 2] };
const meshOf = (file: MeshFile) => ({
  positions: [...file.objects[0].mesh.positions],
  triangles: [...file.objects[0].mesh.triangles],
});

describe('PLY', () => {
  it('reads the smallest text example, with any line ends', () => {
    const file = readText(smallest);
    expect(file).toMatchObject({ format: 'ply-ascii', unitAssumed: true });
    expect(meshOf(file)).toEqual(expected);
    expect(meshOf(readText(smallest.replaceAll('\n', '\r\n')))).toEqual(expected);
    expect(meshOf(readText(smallest.replaceAll('\n', '\r')))).toEqual(expected);
    expect(meshOf(readText(`${smallest}\n\n`))).toEqual(expected);
  });

  const types: [PlyType, string][] = [
    ['int8', 'char'], ['uint8', 'uchar'], ['int16', 'short'], ['uint16', 'ushort'],
    ['int32', 'int'], ['uint32', 'uint'], ['float32', 'float'], ['float64', 'double'],
  ]; // prettier-ignore

  it.each(types)('reads %s in both byte orders and under both names', (type, old) => {
    for (const order of ['little', 'big'] as const) {
      for (const name of [type, old]) {
        for (const lineEnd of ['\n', '\r\n', '\r']) {
          const face = `element face 1\nproperty list ${name} ${name} vertex_index`;
          const values = [...places, 3, 0, 1, 2].map((value): [PlyType, number] => [type, value]);
          const file = read(binary(order, `${vertexHeader(name)}\n${face}`, values, lineEnd));
          expect(file.format).toBe('ply-binary');
          expect(meshOf(file)).toEqual(expected);
        }
      }
    }
  });

  it('takes a first data byte that looks like a line feed for data', () => {
    const face = 'element face 1\nproperty list uchar uchar vertex_indices';
    const values = [10, 0, 0, 12, 0, 0, 11, 2, 0, 3, 0, 1, 2].map((value): [PlyType, number] => [
      'uint8',
      value,
    ]);
    const file = read(binary('little', `${vertexHeader('uchar')}\n${face}`, values, '\r'));
    expect(meshOf(file).positions[0]).toBe(10);
  });

  it('passes over other elements and properties, lists too', () => {
    const header = [
      'comment made by hand', 'obj_info nothing', 'element camera 2', 'property double focus',
      'property list uchar short marks', 'element vertex 3', 'property uchar red', 'property float z',
      'property float x', 'property list uchar float weights', 'property float y', 'element face 2',
      'property uchar flag', 'property list uchar int vertex_indices', 'property list uchar float texcoord',
      'element edge 0', 'property int vertex1',
    ].join('\n'); // prettier-ignore
    const numbers: [PlyType, number][] = [];
    for (const marks of [[7, 8], []]) {
      numbers.push(
        ['float64', 1.5],
        ['uint8', marks.length],
        ...marks.map((m): [PlyType, number] => ['int16', m]),
      );
    }
    for (const [x, y, z] of [
      [0, 0, 0],
      [2, 0, 0],
      [1, 2, 0],
    ]) {
      numbers.push(
        ['uint8', 200],
        ['float32', z],
        ['float32', x],
        ['uint8', 1],
        ['float32', 0.5],
        ['float32', y],
      );
    }
    for (const corners of [
      [0, 1, 2],
      [0, 2, 1],
    ]) {
      numbers.push(['uint8', 9], ['uint8', 3], ...corners.map((c): [PlyType, number] => ['int32', c]));
      numbers.push(['uint8', 2], ['float32', 0], ['float32', 1]);
    }
    const wanted = { positions: places, triangles: [0, 1, 2, 0, 2, 1] };
    expect(meshOf(read(binary('big', header, numbers)))).toEqual(wanted);
    const text = [
      'ply',
      'format ascii 1.0',
      header,
      'end_header',
      ...numbers.map(([, value]) => String(value)),
    ];
    expect(meshOf(readText(text.join('\n')))).toEqual(wanted);
  });

  it('cuts polygons and follows strips', () => {
    const quad = smallest.replace('vertex 3', 'vertex 4').replace('3 0 1 2', '0 2 0\n4 0 1 2 3');
    expect(meshOf(readText(quad)).triangles.length).toBe(6);
    const strips = smallest
      .replace('vertex 3', 'vertex 4')
      .replace('element face 1', 'element tristrips 1')
      .replace('3 0 1 2', '0 2 0\n8 0 1 2 3 -1 3 2 1');
    const corners = meshOf(readText(strips)).triangles;
    expect(corners).toEqual([0, 1, 2, 2, 1, 3, 3, 2, 1]);
  });

  it('drops faces with a vertex that is no place', () => {
    const file = readText(
      `${smallest.replace('2 0 0', 'nan 0 0').replace('face 1', 'face 2').replace('vertex 3', 'vertex 4').replace('1 2 0', '1 2 0\n5 5 5')}\n3 0 2 3`,
    );
    expect(file.objects[0].mesh.triangles.length).toBe(3);
    expect(codes(file)).toEqual(['facets-dropped']);
  });

  it('reads a cloud of points as an empty mesh with a note', () => {
    const file = readText(smallest.replace('face 1', 'face 0').replace('\n3 0 1 2', ''));
    expect(file.objects[0].mesh.triangles.length).toBe(0);
    expect(codes(file)).toEqual(['no-facets']);
  });

  it.each([
    ['an index beyond', smallest.replace('3 0 1 2', '3 0 1 3'), 'ply-index', 13],
    ['a negative index', smallest.replace('3 0 1 2', '3 0 1 -1'), 'ply-index', 13],
    ['an index with a fraction', smallest.replace('3 0 1 2', '3 0 1 1.5'), 'ply-index', 13],
    ['two corners', smallest.replace('3 0 1 2', '2 0 1 2'), 'ply-face-corners', 13],
    ['a missing value', smallest.replace('3 0 1 2', '3 0 1'), 'ply-truncated', 13],
    ['a word for a number', smallest.replace('2 0 0', '2 0 x'), 'not-a-number', 11],
    ['a conflict marker', smallest.replace('2 0 0', '<<<<<<< ours\n2 0 0'), 'conflict-marker', 11],
    [
      'a conflict in the header',
      smallest.replace('element face', '=======\nelement face'),
      'conflict-marker',
      7,
    ],
    ['no format', smallest.replace('format ascii 1.0\n', ''), 'ply-header', 8],
    ['an unknown format', smallest.replace('ascii', 'morse'), 'ply-header', 2],
    ['an unknown type', smallest.replace('float y', 'real y'), 'ply-header', 5],
    ['faces without indices', smallest.replace('vertex_indices', 'material'), 'ply-header', 1],
    ['no vertices', smallest.replace('element vertex', 'element point'), 'ply-header', 1],
    ['no y', smallest.replace('float y', 'float why'), 'ply-header', 1],
    ['no end of the header', smallest.replace('end_header\n', ''), 'ply-header', 9],
    [
      'faces before vertices',
      'ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int vertex_index\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nend_header\n3 0 1 2\n0 0 0\n2 0 0\n1 2 0\n',
      'ply-index',
      10,
    ],
  ])('refuses %s with its line', (_, text, code, line) => {
    const error = errorOf(encode(text));
    expect([error.code, error.line]).toEqual([code, line]);
  });

  it('refuses counts that the file is too small for, before it allocates', () => {
    for (const [from, to] of [
      ['vertex 3', 'vertex 999999999999'],
      ['face 1', 'face 4000000000'],
    ]) {
      expect(errorOf(encode(smallest.replace(from, to))).code).toBe('ply-truncated');
    }
    const face = 'element face 1\nproperty list uint int vertex_index';
    const values: [PlyType, number][] = places.map(value => ['float32', value]);
    const file = binary('little', `${vertexHeader('float')}\n${face}`, [
      ...values,
      ['uint32', 4e9],
      ['int32', 0],
    ]);
    expect(errorOf(file).code).toBe('ply-truncated');
    expect(errorOf(binary('little', vertexHeader('float', 4), values)).byte).toBeGreaterThan(0);
    // Elements without properties take no bytes, so any count of them is true.
    expect(
      meshOf(readText(smallest.replace('element face', 'element nothing 999999999999\nelement face'))),
    ).toEqual(expected);
  });
});
