import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { MeshFile } from '../types.ts';
import { readMesh } from './read-mesh.ts';

const encode = (text: string) => new TextEncoder().encode(text);
const read = (text: string) => readMesh(bytesSource(encode(text)));
const codes = (file: MeshFile) => file.notes.map(note => note.code);

function errorOf(text: string): { code: string; line: number | undefined; facet: number | undefined } {
  try {
    read(text);
  } catch (error) {
    if (error instanceof InputError)
      return { code: error.code, line: error.place.line, facet: error.place.facet };
    throw error;
  }
  throw new Error('nothing was thrown');
}

const facet = (...corners: string[]) =>
  ['facet normal 0 0 1', 'outer loop', ...corners.map(c => `vertex ${c}`), 'endloop', 'endfacet', ''].join(
    '\n',
  );
const one = facet('0 0 0', '10 0 0', '0 10 0');
const solid = (content: string, name = 'part') => `solid ${name}\n${content}endsolid ${name}\n`;
const positions = (text: string) => [...read(text).objects[0].mesh.positions];

describe('text STL', () => {
  it('reads facets and names', () => {
    const file = read(solid(one + facet('10 0 0', '10 10 0', '0 10 0'), 'left hinge leaf'));
    expect(file).toMatchObject({ format: 'stl-ascii', unit: 'millimeter', unitAssumed: true, notes: [] });
    expect(file.objects[0].name).toBe('left hinge leaf');
    expect([...file.objects[0].mesh.positions]).toEqual([0, 0, 0, 10, 0, 0, 0, 10, 0, 10, 10, 0]);
    expect([...file.objects[0].mesh.triangles]).toEqual([0, 1, 2, 1, 3, 2]);
  });

  it('does not care about case, line ends, indentation or a byte-order mark', () => {
    const expected = positions(solid(one));
    const plain = solid(one);
    const forms = [
      plain.toUpperCase(),
      plain.replace('facet', 'Facet').replace('vertex', 'VerTex'),
      plain.replaceAll('\n', '\r\n'),
      plain.replaceAll('\n', '\r'),
      plain.replaceAll('\n', ' '),
      plain.replaceAll(' ', '\t \t'),
      `\ufeff\n\n  ${plain}`,
      plain.replaceAll('\n', '\n\n'),
      plain.trimEnd(),
      plain.replace('vertex 10 0 0', 'vertex\n10\n0\n0'),
    ];
    for (const form of forms) expect(positions(form)).toEqual(expected);
  });

  it('takes numbers as C prints them', () => {
    expect(positions(solid(facet('.5 1. 1e-3', '+2 -0 1.5E+1', '7 0.1 -.25')))).toEqual([
      0.5, 1, 0.001, 2, 0, 15, 7, 0.1, -0.25,
    ]);
  });

  it('keeps doubles as they are written (property)', () => {
    const coordinate = fc.double({ min: -1e30, max: 1e30, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.array(coordinate, { minLength: 9, maxLength: 9 }), { minLength: 1 }),
        facets => {
          const text = facets.map(f => facet(...[0, 3, 6].map(k => f.slice(k, k + 3).join(' ')))).join('');
          const { mesh } = read(solid(text)).objects[0];
          const soup = [...mesh.triangles].flatMap(v => [...mesh.positions.subarray(3 * v, 3 * v + 3)]);
          expect(soup).toEqual(facets.flat().map(x => x + 0));
        },
      ),
    );
  });

  it('gives one object per solid that has facets', () => {
    const file = read(solid(one, 'a') + solid('', 'b') + solid(one, 'c'));
    expect(file.objects.map(o => [o.name, o.mesh.triangles.length / 3])).toEqual([
      ['a', 1],
      ['c', 1],
    ]);
    expect(file.notes).toEqual([
      { code: 'no-facets', text: '1 of 3 solids have no facets and were left out.' },
    ]);
  });

  it('keeps one empty object where no solid has facets, however many there are', () => {
    const file = read(solid('', 'a') + solid('', 'b').repeat(20_000));
    expect(file.objects.map(o => [o.name, o.mesh.triangles.length])).toEqual([['a', 0]]);
    expect(codes(file)).toEqual(['no-facets']);
    const bare = read(solid('', 'a') + 'solid x\n'.repeat(20_000));
    expect(bare.objects.length).toBe(1);
    expect(codes(bare)).toEqual(['stl-no-endsolid', 'no-facets']);
    expect(bare.notes[0].text).toContain('so do 19999 more');
  });

  it('refuses more objects than are measured, with a remedy', () => {
    expect(read(solid(one).repeat(4096)).objects.length).toBe(4096);
    expect(read(solid(one).repeat(4096) + solid('').repeat(10)).objects.length).toBe(4096);
    expect(() => read(solid(one).repeat(4097))).toThrow(
      expect.objectContaining({
        code: 'too-many-objects',
        remedy: expect.stringContaining('4096') as string,
      }),
    );
  });

  it('takes names that look like the format', () => {
    expect(read(solid(one, 'facet plate 3')).objects[0].name).toBe('facet plate 3');
    expect(read(solid(one, 'facet facet')).objects[0].name).toBe('facet facet');
    expect(read(`solid${solid(one).slice(10)}`).objects[0].name).toBe(null);
    expect(read(solid(one, 'x'.repeat(3000))).objects[0].name).toBe('x'.repeat(200));
    expect(read(solid(one, 'Löffel, groß')).objects[0].name).toBe('Löffel, groß');
  });

  it('notes a missing endsolid', () => {
    expect(codes(read(`solid\n${one}`))).toEqual(['stl-no-endsolid']);
    const two = read(`solid a\n${one}solid b\n${one}endsolid`);
    expect(two.objects.map(o => o.name)).toEqual(['a', 'b']);
    expect(codes(two)).toEqual(['stl-no-endsolid']);
  });

  it('drops facets that cannot be placed and says which', () => {
    for (const bad of ['nan', '-NaN', 'inf', '-Infinity', '1.#QNAN', '-1.#IND00', '1e999', 'nan(ind)']) {
      const file = read(solid(one + facet('0 0 0', `1 ${bad} 0`, '0 1 0') + one));
      expect(file.objects[0].mesh.triangles.length).toBe(6);
      expect(file.notes.map(note => note.text)).toEqual([expect.stringContaining('(facet 2)')]);
    }
    expect(errorOf(solid(facet('nan 0 0', '1 0 0', '0 1 0'))).code).toBe('no-finite-facet');
  });

  it('says where a facet has other than three corners', () => {
    expect(errorOf(solid(one + facet('0 0 0', '1 0 0', '1 1 0', '0 1 0')))).toEqual({
      code: 'stl-facet-corners',
      line: 14,
      facet: 2,
    });
    expect(errorOf(solid(facet('0 0 0', '1 0 0')))).toEqual({ code: 'stl-facet-corners', line: 6, facet: 1 });
  });

  it('says where a number is none', () => {
    expect(errorOf(solid(facet('0 0 0', '1,5 0 0', '0 1 0')))).toEqual({
      code: 'not-a-number',
      line: 5,
      facet: 1,
    });
    expect(errorOf(solid(facet('0 0 0', '1 0', '0 1 0'))).code).toBe('not-a-number');
    expect(() => read(solid(facet('0 0 0', '1,5 0 0', '0 1 0')))).toThrow(/decimal comma/);
  });

  it('names the conflict marker that version control left, wherever it stands', () => {
    const lines = solid(one + one).split('\n');
    // Line 0 is the name, which may be anything; behind the last line there is nothing to mix.
    for (let at = 0; at < lines.length - 1; at++) {
      for (const marker of ['<<<<<<< ours', '=======', '>>>>>>> theirs', '||||||| base']) {
        const text = [...lines.slice(0, at), marker, ...lines.slice(at)].join('\n');
        const error = errorOf(text);
        expect([error.code, error.line]).toEqual(['conflict-marker', at + 1]);
      }
    }
  });

  it('says where the file was cut off', () => {
    const text = solid(one + one);
    for (let length = text.indexOf('outer'); length < text.lastIndexOf('endfacet'); length++) {
      const cut = text.slice(0, length);
      const facets = cut.split('endfacet').length - 1;
      const between = /endfacet(\s+(f|fa|fac|face)?)?$/.test(cut);
      if (/endfacet\s*$/.test(cut)) expect(codes(read(cut))).toEqual(['stl-no-endsolid']);
      else if (/\d[^a-z]*[+-.]$/.test(cut)) expect(errorOf(cut).code).toBe('not-a-number');
      else expect([length, errorOf(cut).code]).toEqual([length, 'stl-truncated']);
      if (!between) expect(errorOf(cut).facet).toBe(facets + 1);
    }
  });

  it('reads across the window it holds', () => {
    // 40 000 facets are about 3 MB, ten windows and more, with line ends at every offset.
    const facets = Array.from({ length: 40_000 }, (_, i) =>
      facet(`${i} 0 0`, `${i + 1} 0 0`, `${i}.25 1 ${i % 97}`),
    );
    const file = read(solid(facets.join('').replaceAll('\n', '\r\n')));
    const { mesh } = file.objects[0];
    expect(mesh.triangles.length).toBe(120_000);
    expect([...mesh.positions.slice(-6)]).toEqual([40_000, 0, 0, 39_999.25, 1, 39_999 % 97]);
    const broken = solid([...facets.slice(0, 30_000), facet('1 2')].join('').replaceAll('\n', '\r\n'));
    expect(errorOf(broken)).toEqual({ code: 'not-a-number', line: 30_000 * 7 + 5, facet: 30_001 });
  });

  it('scales before it welds', () => {
    const file = readMesh(bytesSource(encode(solid(one))), { unit: 'inch' });
    expect(Math.max(...file.objects[0].mesh.positions)).toBe(254);
  });
});
