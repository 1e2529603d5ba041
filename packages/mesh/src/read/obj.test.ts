import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import type { MeshFile } from '../types.ts';
import { readMesh } from './read-mesh.ts';

const read = (text: string) => readMesh(bytesSource(new TextEncoder().encode(text)));
const codes = (file: MeshFile) => file.notes.map(note => note.code);
/** Corners of the first object as points in the order of its faces. */
function soup(text: string): string[] {
  const { positions, triangles } = read(text).objects[0].mesh;
  return [...triangles].map(v => [...positions.subarray(3 * v, 3 * v + 3)].join(' '));
}

function errorOf(text: string): { code: string; line: number | undefined } {
  try {
    read(text);
  } catch (error) {
    if (error instanceof InputError) return { code: error.code, line: error.place.line };
    throw error;
  }
  throw new Error('nothing was thrown');
}

const square = 'v 0 0 0\nv 9 0 0\nv 9 9 0\nv 0 9 0\n';

describe('OBJ', () => {
  // The four face statements are the examples of the reference facts on the format.
  it('reads indices from 1, from the end, and with texture and normal', () => {
    expect(soup(`${square}f 1 2 3\n`)).toEqual(['0 0 0', '9 0 0', '9 9 0']);
    const both = ['0 0 0', '9 0 0', '9 9 0', '0 0 0', '9 9 0', '0 9 0'];
    expect(soup(`${square}f 1/1/1 2/2/1 3/3/1 4/4/1\n`)).toEqual(both);
    expect(soup(`${square}f 1//1 2//1 3//1 4//1`)).toEqual(both);
    expect(soup(`${square}f -4 -3 -2 -1\n`)).toEqual(both);
    expect(soup(`${square}v 5 5 5\nf -5 2 -3\n`)).toEqual(both.slice(0, 3));
    expect(errorOf(`${square}f 0 1 2\n`)).toEqual({ code: 'obj-index', line: 5 });
  });

  it('cuts concave polygons inside their outline', () => {
    const text = 'v 0 0 0\nv 4 0 0\nv 1 1 0\nv 0 4 0\nf 1 2 3 4\n';
    const corners = soup(text);
    // The diagonal must run between the corner pushed in and the one opposite.
    expect(corners.filter(c => c === '1 1 0').length).toBe(2);
    expect(corners.filter(c => c === '0 0 0').length).toBe(2);
  });

  it('gives one object per o that has faces', () => {
    const file = read(
      `${square}o empty\no first part\nf 1 2 3\ng group\nf 1 3 4\no second\nv 0 0 5\nf 1 2 5\n`,
    );
    expect(file.objects.map(o => [o.name, o.mesh.triangles.length / 3, o.mesh.positions.length / 3])).toEqual(
      [
        ['first part', 2, 4],
        ['second', 1, 3],
      ],
    );
  });

  it('joins vertices at the same place and leaves out unused ones', () => {
    const file = read(`${square}v 9 0 0\nv 9 9 -0\nv 70 70 70\nf 1 2 3\nf 5 6 4\n`);
    expect(file.objects[0].mesh.positions.length).toBe(12);
  });

  it('goes on behind a backslash', () => {
    const text =
      '# a comment \\\nv 0 0 \\\n  0\nv 9 0 0\\\n\nv 9 9 0 # note\nusemtl a \\\n b\nf 1 2 \\\r\n 3';
    expect(soup(text)).toEqual(['0 0 0', '9 0 0', '9 9 0']);
  });

  it('passes over colors, comments and statements for other things', () => {
    const file = read(
      `mtllib x\n${square.replaceAll('0\n', '0 0.5 0.5 0.5\n')}vt 0 0\nvn 0 0 1\ns off\nl 1 2\np 1\nf 1 2 3 # 4\n`,
    );
    expect(file.objects[0].mesh.triangles.length).toBe(3);
    expect(codes(file)).toEqual(['obj-passed-over']);
    expect(read(`${square}whatever 1 2\nf 1 2 3\n`).notes[0].text).toContain('line 5');
  });

  it('drops faces that cannot be placed, and says so', () => {
    const file = read(`${square}v nan 0 0\nf 1 2 3\nf 1 2 5\n`);
    expect(file.objects[0].mesh.triangles.length).toBe(3);
    expect(file.notes[0].text).toContain('(facet 2)');
  });

  it('counts only objects with faces against the limit', () => {
    const vertices = 'v 0 0 0\nv 1 0 0\nv 0 1 0\n';
    const full = `${vertices}${'o part\nf 1 2 3\n'.repeat(4096)}`;
    expect(read(`${full}${'o empty\ng group\n'.repeat(5000)}`).objects.length).toBe(4096);
    expect(() => read(`${full}o more\nf 1 2 3\n`)).toThrow(
      expect.objectContaining({ code: 'too-many-objects' }),
    );
  });

  it('reads a cloud of points as an empty mesh with a note', () => {
    const file = read(square);
    expect(file.objects[0].mesh.triangles.length).toBe(0);
    expect(codes(file)).toEqual(['no-facets']);
  });

  it.each([
    ['an index beyond', `${square}f 1 2 5\n`, 'obj-index', 5],
    ['a negative index beyond', `${square}f 1 2 -5\n`, 'obj-index', 5],
    ['a word for an index', `${square}f 1 2 x\n`, 'obj-index', 5],
    ['an index with a point', `${square}f 1 2 3.0\n`, 'obj-index', 5],
    ['two corners', `${square}\nf 1 2\n`, 'obj-face-corners', 6],
    ['a missing coordinate', 'v 0 0\nv 1 1 1\n', 'not-a-number', 1],
    ['a decimal comma', 'v 0 0 0\nv 1,5 1 1\n', 'not-a-number', 2],
    ['a conflict marker', `${square}<<<<<<< ours\nf 1 2 3\n`, 'conflict-marker', 5],
    ['the middle of a conflict', `${square}f 1 2 3\n=======\nf 1 3 2\n`, 'conflict-marker', 6],
    ['5000 corners', `${square}f${' 1 2 3 4'.repeat(1250)}\n`, 'obj-face-corners', 5],
  ])('refuses %s with its line', (_, text, code, line) => {
    expect(errorOf(text)).toEqual({ code, line });
  });

  it('refuses text that merely begins like one', () => {
    expect(errorOf('g old news\n').code).toBe('obj-no-vertices');
    expect(errorOf('# only a comment\n').code).toBe('obj-no-vertices');
  });
});
