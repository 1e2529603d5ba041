import { describe, expect, it } from 'vitest';
import { bytesSource } from '../../bytes.ts';
import { InputError } from '../../error.ts';
import { modelOf, packageOf, tetrahedronXml, zipped } from '../../testing/three-mf-package.ts';
import type { Mesh, MeshFile } from '../../types.ts';
import { readMesh } from '../read-mesh.ts';

const read = (bytes: Uint8Array) => readMesh(bytesSource(bytes));
const readModel = (resources: string, build: string, attributes?: string) =>
  read(packageOf(modelOf(resources, build, attributes)));
const object = (id: number, content: string, more = '') => `<object id="${id}" ${more}>${content}</object>`;
const codes = (file: MeshFile) => file.notes.map(note => note.code);

function errorOf(action: () => unknown): InputError {
  try {
    action();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
}

/** Signed volume, by tetrahedra to the origin. */
function volume({ positions: p, triangles: t }: Mesh): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    sum += p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]);
    sum += p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]);
    sum += p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
}

describe('3MF', () => {
  it('reads one object per build item, with its name and unit', () => {
    const file = readModel(
      object(1, tetrahedronXml(), 'name="hinge &amp; leaf"') + object(7, tetrahedronXml(2)),
      '<item objectid="7"/><item objectid="1"/>',
      'unit="inch"',
    );
    expect(file).toMatchObject({ format: '3mf', unit: 'inch', unitAssumed: false, notes: [] });
    expect(file.objects.map(o => o.name)).toEqual([null, 'hinge & leaf']);
    expect(Math.max(...file.objects[0].mesh.positions)).toBe(50.8);
    expect(Math.max(...file.objects[1].mesh.positions)).toBe(25.4);
  });

  it('takes millimeters when no unit is stated, and the unit asked for with a note', () => {
    const bytes = packageOf(modelOf(object(1, tetrahedronXml()), '<item objectid="1"/>', ''));
    expect(read(bytes)).toMatchObject({ unit: 'millimeter', unitAssumed: false, notes: [] });
    const asked = readMesh(bytesSource(bytes), { unit: 'centimeter' });
    expect(Math.max(...asked.objects[0].mesh.positions)).toBe(10);
    expect(codes(asked)).toEqual(['unit-overridden']);
  });

  // Examples of the layout of transforms in the reference facts on the format.
  it.each([
    ['1 0 0 0 1 0 0 0 1 10 20 30', [10, 20, 30, 11, 20, 30]],
    ['0 1 0 -1 0 0 0 0 1 10 20 30', [10, 20, 30, 10, 21, 30]],
    ['2 0 0 0 2 0 0 0 2 0 0 0', [0, 0, 0, 2, 0, 0]],
    ['-1 0 0 0 1 0 0 0 1 0 0 0', [0, 0, 0, -1, 0, 0]],
  ])('places by %s', (transform, expected) => {
    const { objects } = readModel(
      object(1, tetrahedronXml()),
      `<item objectid="1" transform="${transform}"/>`,
    );
    const { positions, triangles } = objects[0].mesh;
    const at = (corner: number) => [...positions.subarray(3 * triangles[corner], 3 * triangles[corner] + 3)];
    // Corners 0 and 1 of the second face are the origin and the end of the x axis; mirroring swaps corners 1 and 2.
    const mirrored = transform.startsWith('-1');
    expect([...at(3), ...at(mirrored ? 5 : 4)]).toEqual(expected);
    expect(volume(objects[0].mesh)).toBeCloseTo(transform.startsWith('2') ? 8 / 6 : 1 / 6, 14);
  });

  it('applies the transform of a component before the one of what holds it', () => {
    const inner = '<components><component objectid="1" transform="0 1 0 -1 0 0 0 0 1 5 0 0"/></components>';
    const outer = '<components><component objectid="2" transform="2 0 0 0 1 0 0 0 1 0 0 0"/></components>';
    const { objects } = readModel(
      object(1, tetrahedronXml()) + object(2, inner) + object(3, outer),
      '<item objectid="3" transform="1 0 0 0 1 0 0 0 1 0 100 0"/>',
    );
    // (1,0,0) → (5,1,0) → (10,1,0) → (10,101,0), by hand.
    const { positions } = objects[0].mesh;
    const points = Array.from({ length: 4 }, (_, i) => [...positions.subarray(3 * i, 3 * i + 3)].join(' '));
    expect(points.sort()).toEqual(['10 100 0', '10 100 1', '10 101 0', '8 100 0']);
  });

  it('unites components in one mesh, joining vertices at the same place', () => {
    const twice = '<component objectid="1"/><component objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>';
    const file = readModel(
      object(1, tetrahedronXml()) + object(2, `<components>${twice}</components>`, 'name="pair"'),
      '<item objectid="2"/>',
    );
    const { mesh, name } = file.objects[0];
    expect(name).toBe('pair');
    expect(mesh.triangles.length).toBe(24);
    expect(mesh.positions.length).toBe(15);
    expect(volume(mesh)).toBeCloseTo(2 / 6, 14);
    expect(codes(file)).toEqual(['vertices-joined']);
  });

  it('leaves out objects of type other and notes those for support', () => {
    const file = readModel(
      object(1, tetrahedronXml(), 'type="other"') + object(2, tetrahedronXml(9), 'type="support"'),
      '<item objectid="1"/><item objectid="2"/>',
    );
    expect(file.objects.length).toBe(1);
    expect(codes(file)).toEqual(['3mf-other', '3mf-type']);
  });

  it('reads what nothing refers to when the build is empty', () => {
    const file = readModel(
      object(1, tetrahedronXml()) +
        object(2, '<components><component objectid="1"/></components>', 'name="only"'),
      '',
    );
    expect(file.objects.map(o => o.name)).toEqual(['only']);
    expect(codes(file)).toEqual(['3mf-no-items']);
  });

  it('follows objects into other parts of the package', () => {
    const production = 'xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06"';
    const root = modelOf(
      object(1, '<components><component objectid="4" p:path="/3D/more/Leaf.model"/></components>'),
      '<item objectid="1"/><item objectid="4" p:path="/3D/more/leaf.model"/>',
      `${production} requiredextensions="p"`,
    );
    const file = read(packageOf(root, { '3D/more/leaf.model': modelOf(object(4, tetrahedronXml(3)), '') }));
    expect(file.objects.map(o => volume(o.mesh))).toEqual([4.5, 4.5]);
    expect(errorOf(() => read(packageOf(root))).code).toBe('3mf-no-part');
    const inches = modelOf(object(4, tetrahedronXml(3)), '', 'unit="inch"');
    expect(errorOf(() => read(packageOf(root, { '3D/more/leaf.model': inches }))).code).toBe('3mf-unit');
  });

  it('refuses required extensions that may change the shape, and names them', () => {
    const item = '<item objectid="1"/>';
    const slice = 'xmlns:s="http://example.org/slices" requiredextensions="s"';
    const error = errorOf(() => readModel(object(1, tetrahedronXml()), item, slice));
    expect(error).toMatchObject({ code: '3mf-extension' });
    expect(error.message).toContain('http://example.org/slices');
    const sets = 'http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07';
    const file = readModel(object(1, tetrahedronXml()), item, `xmlns:t="${sets}" requiredextensions="t"`);
    expect(codes(file)).toEqual(['3mf-appearance']);
  });

  it('reads a part without namespaces, with a note', () => {
    const model = modelOf(object(1, tetrahedronXml()), '<item objectid="1"/>').replace(/ xmlns="[^"]*"/, '');
    const file = read(packageOf(model));
    expect(file.objects[0].mesh.triangles.length).toBe(12);
    expect(codes(file)).toEqual(['3mf-no-namespace']);
    expect(errorOf(() => read(packageOf(model.replace('<model ', '<model xmlns="urn:x" ')))).code).toBe(
      '3mf-no-model',
    );
  });

  it('passes over foreign elements and those in foreign places', () => {
    const foreign = `<x:vertices xmlns:x="urn:x"><vertex x="9" y="9" z="9"/></x:vertices>`;
    const mesh = tetrahedronXml().replace('<vertices>', `${foreign}<vertices>`);
    const file = readModel(`<basematerials id="3"/>${object(1, mesh)}`, '<item objectid="1"/>');
    expect(Math.max(...file.objects[0].mesh.positions)).toBe(1);
  });

  it.each([
    ['an undefined object', object(1, tetrahedronXml()), '<item objectid="2"/>', '3mf-object'],
    [
      'an object inside itself',
      object(1, '<components><component objectid="1"/></components>'),
      '<item objectid="1"/>',
      '3mf-cycle',
    ],
    [
      'a number without digits behind its point',
      object(1, tetrahedronXml().replace('x="1"', 'x="1."')),
      '',
      '3mf-number',
    ],
    ['NaN', object(1, tetrahedronXml().replace('x="1"', 'x="NaN"')), '', '3mf-number'],
    ['a decimal comma', object(1, tetrahedronXml().replace('x="1"', 'x="1,5"')), '', '3mf-number'],
    ['a hexadecimal number', object(1, tetrahedronXml().replace('x="1"', 'x="0x10"')), '', '3mf-number'],
    ['an infinite number', object(1, tetrahedronXml().replace('x="1"', 'x="1e999"')), '', '3mf-number'],
    ['an index out of range', object(1, tetrahedronXml().replace('v1="2"', 'v1="4"')), '', '3mf-index'],
    ['a negative index', object(1, tetrahedronXml().replace('v1="2"', 'v1="-1"')), '', '3mf-number'],
    ['a missing coordinate', object(1, tetrahedronXml().replace(' y="0"', '')), '', '3mf-attribute'],
    ['object 0', object(0, tetrahedronXml()), '', '3mf-number'],
    ['one id twice', object(1, tetrahedronXml()) + object(1, tetrahedronXml()), '', '3mf-duplicate-id'],
    [
      'a transform of eleven numbers',
      object(1, tetrahedronXml()),
      '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>',
      '3mf-transform',
    ],
    ['a tag left open', object(1, '<mesh>'), '', 'xml-damaged'],
  ])('refuses %s with its line', (_, resources, build, code) => {
    const error = errorOf(() => readModel(resources, build));
    expect(error.code).toBe(code);
    expect(error.place.line).toBeGreaterThan(1);
  });

  it('accepts the numbers that the schema accepts', () => {
    const mesh = tetrahedronXml()
      .replace('x="1"', 'x="+.5e+1"')
      .replace('y="1"', 'y="-1.5"')
      .replace('z="1"', 'z="1.25E+2"');
    const { positions } = readModel(object(1, mesh), '<item objectid="1"/>').objects[0].mesh;
    expect([...positions].filter(x => x !== 0).sort()).toEqual([-1.5, 125, 5]);
  });

  it('bounds what components can multiply to', () => {
    const levels = Array.from({ length: 40 }, (_, i) => {
      const child = `<component objectid="${i + 1}"/>`;
      return object(i + 2, `<components>${child}${child}</components>`);
    });
    const error = errorOf(() =>
      readModel(object(1, tetrahedronXml()) + levels.join(''), '<item objectid="41"/>'),
    );
    expect(error.code).toBe('3mf-limit');
  });

  it('refuses document types, deep nesting and endless tags', () => {
    const model = modelOf(object(1, tetrahedronXml()), '<item objectid="1"/>');
    const withType = model.replace('?>\n', '?>\n<!DOCTYPE model [<!ENTITY a "aaaa">]>\n');
    expect(errorOf(() => read(packageOf(withType))).code).toBe('xml-doctype');
    const deep = '<a>'.repeat(70) + '</a>'.repeat(70);
    expect(errorOf(() => read(packageOf(model.replace('<resources>', `${deep}<resources>`)))).code).toBe(
      'xml-limit',
    );
    // Numbers, so that the archive does not look like a bomb.
    const long = Array.from({ length: 900_000 }, (_, i) => (i * 7919) % 99991).join(' ');
    const endless = model.replace('<resources>', `<resources x="${long}">`);
    expect(errorOf(() => read(packageOf(endless))).code).toBe('xml-limit');
  });

  it('finds the model by its relationship alone', () => {
    const model = modelOf(object(1, tetrahedronXml()), '<item objectid="1"/>');
    expect(errorOf(() => read(zipped({ '3D/3dmodel.model': model }))).code).toBe('3mf-no-model');
    expect(errorOf(() => read(packageOf('<html/>'))).code).toBe('3mf-no-model');
    const decoy = { '3D/3dmodel.model': modelOf(object(1, tetrahedronXml(9)), '<item objectid="1"/>') };
    expect(Math.max(...read(packageOf(model, decoy)).objects[0].mesh.positions)).toBe(1);
  });
});
