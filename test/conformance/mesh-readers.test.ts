// Our readers against other libraries that read the same files, and on files that others made.
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { bytesSource, InputError, readMesh, writeStlBinary, writeThreeMf, type Mesh } from '@kinprint/mesh';
import * as three from 'three';
import { OBJLoader } from 'three/addons/loaders/OBJLoader.js';
import { PLYLoader } from 'three/addons/loaders/PLYLoader.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { describe, expect, it } from 'vitest';

const require = createRequire(import.meta.url);
const models = dirname(require.resolve('stl-models/package.json'));
const fixtures = join(import.meta.dirname, '../fixtures/meshes');

const load = (path: string) => new Uint8Array(readFileSync(path));
const read = (bytes: Uint8Array) => readMesh(bytesSource(bytes));
const bufferOf = (bytes: Uint8Array) => Uint8Array.from(bytes).buffer;

/** All corners of all faces, three numbers each, rounded to 32-bit floats as the other libraries do. */
function corners(meshes: readonly Mesh[]): number[] {
  return meshes.flatMap(({ positions, triangles }) =>
    [...triangles].flatMap(v => [0, 1, 2].map(k => Math.fround(positions[3 * v + k]))),
  );
}

/** The text reader of three-stl-loader still calls a method by its old name. */
class OldGeometry extends three.BufferGeometry {
  addAttribute(name: string, attribute: three.BufferAttribute): this {
    return this.setAttribute(name, attribute);
  }
}
type Loader = new () => { parse(data: ArrayBuffer | string): three.BufferGeometry };
const OtherLoader = (require('three-stl-loader') as (library: unknown) => Loader)({
  ...three,
  BufferGeometry: OldGeometry,
});

interface Polygons {
  readonly polygons: readonly { readonly vertices: readonly (readonly number[])[] }[];
}
const jscad = require('@jscad/stl-deserializer') as {
  deserialize(options: object, data: ArrayBuffer | string): Polygons | Polygons[];
};
const serializer = require('@jscad/3mf-serializer') as {
  serialize(options: object, ...objects: unknown[]): ArrayBuffer[];
};
const modeling = require('@jscad/modeling') as {
  primitives: { cuboid(options: object): Polygons; torus(options: object): Polygons };
  geometries: { geom3: { toPolygons(geometry: unknown): Polygons['polygons'] } };
};

const sound = [
  'polytopes/cube.ascii.stl', 'polytopes/cube.bin.stl', 'polytopes/cubeLarge.ascii.stl', 'polytopes/tetrahedron.bin.stl',
  'polytopes/tetrahedron.min.ascii.stl', 'polytopes/tetrahedronIrregular.ascii.stl', 'polytopes/triangle.bin.stl',
  'polytopes/tetrahedronIrregular.bin.stl', 'polytopes/tetrahedronMinusZero.bin.stl', 'polytopes/unitCube.ascii.stl',
  'polytopes/unitCube.binary.stl', 'objects/gearwheel.ascii.stl', 'objects/gearwheel.bin.stl',
  'misc/multiWordName.ascii.stl', 'misc/namelessSolid.ascii.stl', 'broken/wrongHeader.bin.stl',
  'broken/missingFace.ascii.stl', 'broken/solidNameMismatch.ascii.stl',
]; // prettier-ignore

describe('STL files of the registry package stl-models', () => {
  it.each(sound)('%s reads as in three and three-stl-loader', path => {
    const bytes = load(join(models, path));
    const { objects } = read(bytes);
    const ours = corners(objects.map(object => object.mesh)).map(x => x + 0);
    const isText = path.includes('ascii');
    const theirs = new STLLoader().parse(bufferOf(bytes)).getAttribute('position').array;
    expect([...theirs].map(x => x + 0)).toEqual(ours);
    const others = new OtherLoader().parse(isText ? new TextDecoder().decode(bytes) : bufferOf(bytes));
    expect([...others.getAttribute('position').array].map(x => x + 0)).toEqual(ours);
  });

  it.each(sound)('%s reads as in @jscad/stl-deserializer', path => {
    const bytes = load(join(models, path));
    const data = path.includes('ascii') ? new TextDecoder().decode(bytes) : bufferOf(bytes);
    const result = jscad.deserialize({ output: 'geometry', addMetaData: false }, data);
    const polygons = (Array.isArray(result) ? result : [result]).flatMap(geometry => geometry.polygons);
    const theirs = polygons.flatMap(polygon => polygon.vertices.flat()).map(x => Math.fround(x) + 0);
    expect(theirs).toEqual(corners(read(bytes).objects.map(object => object.mesh)).map(x => x + 0));
  });

  it('text and binary files of one shape weld to the same counts', () => {
    for (const name of ['polytopes/cube', 'polytopes/tetrahedron', 'objects/gearwheel']) {
      const [text, binary] = ['ascii', 'bin'].map(
        kind => read(load(join(models, `${name}.${kind}.stl`))).objects[0].mesh,
      );
      expect(text.triangles).toEqual(binary.triangles);
    }
  });

  it.each([
    ['broken/fourVertices.ascii.stl', 'stl-facet-corners'],
    ['broken/quad.ascii.stl', 'stl-facet-corners'],
    ['broken/twoVertices.ascii.stl', 'stl-facet-corners'],
    ['broken/incorrectFaceCounter.bin.stl', 'stl-truncated'],
    ['broken/empty.stl', 'empty-file'],
    ['misc/multiWordName.bin.stl', 'binary-as-text'],
  ])('%s is refused', (path, code) => {
    expect(() => read(load(join(models, path)))).toThrow(expect.objectContaining({ code }) as Error);
  });

  it('a missing endsolid and a solid without facets are noted', () => {
    const codes = (path: string) => read(load(join(models, path))).notes.map(note => note.code);
    expect(codes('broken/missingEndsolid.ascii.stl')).toContain('stl-no-endsolid');
    expect(codes('misc/faceless.ascii.stl')).toEqual(['no-facets']);
  });
});

describe('our STL files', () => {
  it('read in the other libraries as we wrote them', () => {
    const { mesh } = read(load(join(models, 'objects/gearwheel.bin.stl'))).objects[0];
    const bytes = writeStlBinary(mesh);
    const ours = corners([mesh]);
    expect([...new STLLoader().parse(bufferOf(bytes)).getAttribute('position').array]).toEqual(ours);
    expect([...new OtherLoader().parse(bufferOf(bytes)).getAttribute('position').array]).toEqual(ours);
  });
});

describe('3MF files of @jscad/3mf-serializer', () => {
  it.each([
    ['millimeter', 1],
    ['inch', 25.4],
  ] as const)('read as the shapes they were made from, in %s', (unit, factor) => {
    const shapes = [
      modeling.primitives.cuboid({ size: [10, 20, 30] }),
      modeling.primitives.torus({ innerRadius: 2, outerRadius: 9, innerSegments: 8, outerSegments: 16 }),
    ];
    const parts = serializer.serialize({ unit, compress: true }, ...shapes);
    const bytes = Uint8Array.from(parts.flatMap(part => [...new Uint8Array(part)]));
    const file = read(bytes);
    expect(file).toMatchObject({ format: '3mf', unit, unitAssumed: false });
    expect(file.objects.length).toBe(2);
    file.objects.forEach(({ mesh }, i) => {
      const points = modeling.geometries.geom3
        .toPolygons(shapes[i])
        .flatMap(polygon => [...polygon.vertices]);
      for (const axis of [0, 1, 2]) {
        const theirs = points.map(point => point[axis] * factor);
        const ours = [...mesh.positions].filter((_, k) => k % 3 === axis);
        expect(Math.max(...ours)).toBeCloseTo(Math.max(...theirs), 4);
        expect(Math.min(...ours)).toBeCloseTo(Math.min(...theirs), 4);
      }
    });
    // A box of 10 × 20 × 30 has 8 vertices and, all quadrilaterals cut, 12 triangles.
    expect([file.objects[0].mesh.positions.length, file.objects[0].mesh.triangles.length]).toEqual([24, 36]);
  });
});

describe('OBJ and PLY files', () => {
  it('read as in three', () => {
    const obj = load(join(fixtures, 'cube_with_vertexcolors.obj'));
    const group = new OBJLoader().parse(new TextDecoder().decode(obj));
    const theirs = group.children.flatMap(child => [
      ...(child as three.Mesh).geometry.getAttribute('position').array,
    ]);
    expect(theirs).toEqual(corners(read(obj).objects.map(o => o.mesh)));

    const ply = load(join(fixtures, 'cube.ply'));
    const geometry = new PLYLoader().parse(bufferOf(ply)).toNonIndexed();
    const ours = corners(read(ply).objects.map(o => o.mesh));
    expect([...geometry.getAttribute('position').array]).toEqual(ours);
  });
});

describe('fixtures from other programs', () => {
  const expected: Record<string, string> = {
    'box.3mf': '3mf 8 12',
    'box.obj': 'obj 8 12',
    'box_UTF16BE.obj': 'text-encoding',
    'box_longline.obj': 'obj 8 944',
    'box_without_lineending.obj': 'obj 8 12',
    'cube.ply': 'ply-ascii 8 12',
    'cube_with_vertexcolors.obj': 'obj 8 12',
    'malformed.obj': 'obj-index',
    'malformed2.obj': 'obj-face-corners',
    'multiple_spaces.obj': 'obj 3 1',
    'number_formats.obj': 'not-a-number',
    'points.ply': 'ply-ascii 0 0',
    'testmixed.obj': 'obj 8 12',
    'triangle.stl': 'stl-ascii 3 1',
    'triangle_with_empty_solid.stl': 'stl-ascii 3 1',
    'triangle_with_two_solids.stl': 'stl-ascii 3 1, 3 1',
  };

  function summary(bytes: Uint8Array): string {
    try {
      const { format, objects } = read(bytes);
      return `${format} ${objects.map(o => `${o.mesh.positions.length / 3} ${o.mesh.triangles.length / 3}`).join(', ')}`;
    } catch (error) {
      if (error instanceof InputError) return error.code;
      throw error;
    }
  }

  it.each(readdirSync(fixtures).filter(name => name !== 'NOTICE'))('%s', name => {
    expect(summary(load(join(fixtures, name)))).toBe(expected[name]);
  });

  it('the 3MF box measures 10 × 20 × 30 and survives our own writer', () => {
    const { objects } = read(load(join(fixtures, 'box.3mf')));
    const again = read(writeThreeMf(objects)).objects;
    expect(corners(again.map(o => o.mesh))).toEqual(corners(objects.map(o => o.mesh)));
    const { positions } = objects[0].mesh;
    const largest = [0, 1, 2].map(axis => Math.max(...[...positions].filter((_, k) => k % 3 === axis)));
    expect(largest).toEqual([10, 20, 30]);
  });
});
