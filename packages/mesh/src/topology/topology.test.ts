import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshOf } from '../testing/builder.ts';
import {
  flipped,
  joined,
  randomFrom,
  shuffled,
  translated,
  weldedExactly,
  without,
} from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, icosphere, prism, torus, tube } from '../testing/shapes.ts';
import * as surfaces from '../testing/surfaces.ts';
import type { Mesh } from '../types.ts';
import { topology } from './topology.ts';

function figures(mesh: Mesh) {
  const { euler, genus, loops, shells, orientable, pairs, vertices } = topology(mesh);
  return {
    euler,
    genus,
    loops: loops.length,
    shells,
    orientable,
    closed: pairs.closedCycle,
    edges: pairs.edges,
    vertices,
  };
}

const hole = (x: number, depth?: number) => ({
  x,
  y: 10,
  r: 2,
  sides: 12,
  ...(depth === undefined ? {} : { depth }),
});

describe('topology', () => {
  // chi = V − E + F; chi = 2 − 2g − b per orientable shell (any topology textbook); examples counted by hand.
  it.each<[string, Mesh, object]>([
    ['icosahedron', icosphere(1, 0), { euler: 2, genus: 0, loops: 0, shells: 1, edges: 30, vertices: 12 }],
    ['grid torus', torus(10, 3, 8, 6), { euler: 0, genus: 1, loops: 0, shells: 1, edges: 144, vertices: 48 }],
    [
      'seven-vertex torus',
      surfaces.sevenVertexTorus(),
      { euler: 0, genus: 1, loops: 0, edges: 21, vertices: 7 },
    ],
    ['tube', tube(9, 5, 4, 3), { euler: 0, genus: 1, loops: 0, closed: true }],
    [
      'plate with two holes',
      plateWithHoles(40, 20, 6, [hole(10), hole(30)]),
      { euler: -2, genus: 2, closed: true },
    ],
    [
      'plate with three holes',
      plateWithHoles(60, 20, 6, [hole(10), hole(30), hole(50)]),
      { euler: -4, genus: 3 },
    ],
    [
      'plate with a blind hole',
      plateWithHoles(40, 20, 6, [hole(10, 4), hole(30)]),
      { euler: 0, genus: 1, closed: true },
    ],
    [
      'two balls',
      joined(icosphere(1, 0), translated(icosphere(1, 0), [5, 0, 0])),
      { euler: 4, genus: 0, shells: 2 },
    ],
    [
      'ball with cavity',
      joined(icosphere(2, 0), flipped(icosphere(1, 0))),
      { euler: 4, genus: 0, shells: 2, closed: true },
    ],
    [
      'one triangle',
      meshOf(
        [
          [0, 0, 0],
          [1, 0, 0],
          [0, 1, 0],
        ],
        [[0, 1, 2]],
      ),
      { euler: 1, genus: 0, loops: 1, closed: false },
    ],
    [
      'open cylinder',
      surfaces.openCylinder(12, 5, 9),
      { euler: 0, genus: 0, loops: 2, closed: false, orientable: true },
    ],
    [
      'box without one side',
      without(box(1, 1, 1), 0, 1),
      { euler: 1, genus: 0, loops: 1, edges: 17, closed: false },
    ],
    [
      'Möbius band',
      surfaces.moebiusBand(12),
      { euler: 0, genus: null, loops: 1, shells: 1, orientable: false, closed: false },
    ],
    [
      'cubes sharing an edge',
      surfaces.cubesSharingEdge(),
      { euler: 3, genus: null, loops: 0, shells: 2, edges: 35, vertices: 14, closed: true },
    ],
    [
      'cubes sharing a vertex',
      surfaces.cubesSharingVertex(),
      { euler: 3, genus: null, loops: 0, shells: 2, edges: 36, vertices: 15, closed: true },
    ],
    ['nothing', meshOf([], []), { euler: 0, genus: null, loops: 0, shells: 0, closed: true }],
  ])('%s', (_, mesh, expected) => {
    expect(figures(mesh)).toMatchObject(expected);
    expect(figures(shuffled(mesh, randomFrom(3)))).toMatchObject(expected);
  });

  it('leaves faces with two equal corners out, and vertices that only they use', () => {
    const cube = box(1, 1, 1);
    const collapsed = {
      positions: Float64Array.of(...cube.positions, 5, 5, 5),
      triangles: Uint32Array.of(...cube.triangles, 8, 8, 0),
    };
    expect(figures(collapsed)).toEqual(figures(cube));
    expect(topology(collapsed).label[12]).toBe(-1);
  });

  it('counts one turned face as flipped edges, still orientable', () => {
    const cube = box(1, 1, 1);
    const turned = cube.triangles.slice();
    [turned[0], turned[1]] = [turned[1], turned[0]];
    const found = topology({ positions: cube.positions, triangles: turned });
    expect(found.pairs.flipped).toHaveLength(3);
    expect(found).toMatchObject({ orientable: true, shells: 1, genus: 0, euler: 2 });
    expect(found.pairs.closedCycle).toBe(false);
  });

  it('takes holes that touch at a vertex as one loop, and gives no genus', () => {
    const sphere = icosphere(1, 2);
    const around = [...Array(sphere.triangles.length / 3).keys()].filter(f =>
      sphere.triangles.subarray(3 * f, 3 * f + 3).includes(3),
    );
    const [first, , third] = orderedAround(sphere, around);
    const found = topology(without(sphere, first, third));
    expect(found.loops).toHaveLength(1);
    expect(found.pinched).toEqual([3]);
    expect(found.genus).toBeNull();
  });

  it('a prism with k faces removed one by one keeps chi = V − E + F', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(27), { maxLength: 27 }), drop => {
        const mesh = without(prism(8, 3, 2), ...drop);
        const { triangles } = mesh;
        const keys = new Set<string>();
        for (let h = 0; h < triangles.length; h++) {
          const ends = [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]].sort((a, b) => a - b);
          keys.add(ends.join());
        }
        expect(topology(mesh).euler).toBe(new Set(triangles).size - keys.size + triangles.length / 3);
      }),
    );
  });

  it('adds genus and characteristic over separate parts', () => {
    const parts = [torus(10, 3, 6, 5), box(1, 1, 1), surfaces.openCylinder(5, 1, 1)];
    const whole = figures(
      weldedExactly(joined(...parts.map((part, i) => translated(part, [100 * i, 0, 0])))),
    );
    expect(whole).toMatchObject({ euler: 2, genus: 1, shells: 3, loops: 2 });
  });
});

/** Faces around vertex 3 in an order in which the first and third are not neighbors. */
function orderedAround(mesh: Mesh, faces: readonly number[]): number[] {
  const corners = (f: number) => [...mesh.triangles.subarray(3 * f, 3 * f + 3)];
  const [first, ...rest] = faces;
  const beside = (f: number, g: number) => corners(f).filter(v => corners(g).includes(v)).length === 2;
  const second = rest.find(g => beside(first, g)) ?? -1;
  const third = rest.find(g => g !== first && g !== second && beside(second, g)) ?? -1;
  return [first, second, third];
}
