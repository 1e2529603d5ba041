import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { facesCross } from './faces-cross.ts';

type Point = readonly number[];

/** Are the two faces crossing? Equal points become one vertex. */
function cross(one: readonly Point[], two: readonly Point[]): boolean {
  const points: Point[] = [];
  const index = (q: Point) => {
    const at = points.findIndex(p => p.join() === q.join());
    return at >= 0 ? at : points.push(q) - 1;
  };
  const triangles = Uint32Array.from([...one, ...two].map(index));
  return facesCross(points.flat(), triangles, 0, 1);
}

/** The slow judge, in exact integers: is there an edge of one that passes through the inside of the other? */
function pierces(one: readonly Point[], two: readonly Point[]): boolean {
  const det = (a: Point, b: Point, c: Point, d: Point) => {
    const [u, v, w] = [b, c, d].map(q => q.map((x, k) => BigInt(x) - BigInt(a[k])));
    const sum =
      u[0] * (v[1] * w[2] - v[2] * w[1]) -
      u[1] * (v[0] * w[2] - v[2] * w[0]) +
      u[2] * (v[0] * w[1] - v[1] * w[0]);
    return sum > 0n ? 1 : sum < 0n ? -1 : 0;
  };
  const edgeThrough = (p: Point, q: Point, [a, b, c]: readonly Point[]) => {
    if (det(a, b, c, p) * det(a, b, c, q) >= 0) return false;
    const signs = [det(p, q, a, b), det(p, q, b, c), det(p, q, c, a)];
    return signs.every(s => s > 0) || signs.every(s => s < 0);
  };
  const edges = ([a, b, c]: readonly Point[]) => [
    [a, b],
    [b, c],
    [c, a],
  ];
  return (
    edges(one).some(([p, q]) => edgeThrough(p, q, two)) || edges(two).some(([p, q]) => edgeThrough(p, q, one))
  );
}

const floor = [
  [0, 0, 0],
  [6, 0, 0],
  [0, 6, 0],
];

describe('facesCross', () => {
  it.each<[string, boolean, Point[]]>([
    [
      'an edge through the inside',
      true,
      [
        [1, 1, -1],
        [1, 1, 1],
        [9, 9, 1],
      ],
    ],
    [
      'a corner that only touches',
      false,
      [
        [1, 1, 0],
        [1, 1, 5],
        [2, 2, 5],
      ],
    ],
    [
      'an edge that lies in the face',
      false,
      [
        [1, 1, 0],
        [2, 1, 0],
        [1, 1, 5],
      ],
    ],
    [
      'a face that stands on an edge',
      false,
      [
        [3, 0, 0],
        [3, 0, 5],
        [3, -5, 0],
      ],
    ],
    [
      'a face that passes beside',
      false,
      [
        [5, 5, -1],
        [5, 5, 1],
        [9, 9, 0],
      ],
    ],
    [
      'a face above',
      false,
      [
        [1, 1, 1],
        [2, 1, 1],
        [1, 2, 1],
      ],
    ],
    [
      'the same plane, overlapping',
      true,
      [
        [1, 1, 0],
        [9, 1, 0],
        [1, 9, 0],
      ],
    ],
    [
      'the same plane, one in the other',
      true,
      [
        [1, 1, 0],
        [2, 1, 0],
        [1, 2, 0],
      ],
    ],
    [
      'the same plane, side by side',
      false,
      [
        [6, 0, 0],
        [6, 6, 0],
        [0, 6, 0],
      ],
    ],
    [
      'the same plane, touching along part of an edge',
      false,
      [
        [1, 0, 0],
        [2, 0, 0],
        [1, -5, 0],
      ],
    ],
    [
      'a common edge, folded flat onto it',
      true,
      [
        [0, 0, 0],
        [6, 0, 0],
        [1, 1, 0],
      ],
    ],
    [
      'a common edge, standing',
      false,
      [
        [0, 0, 0],
        [6, 0, 0],
        [1, 1, 1],
      ],
    ],
    [
      'a common edge, going on flat',
      false,
      [
        [6, 0, 0],
        [0, 0, 0],
        [1, -1, 0],
      ],
    ],
    [
      'a common corner, through the face',
      true,
      [
        [0, 0, 0],
        [2, 2, 1],
        [2, 2, -1],
      ],
    ],
    [
      'a common corner, away from the face',
      false,
      [
        [0, 0, 0],
        [-2, -2, 1],
        [-2, -2, -1],
      ],
    ],
    [
      'a common corner, along an edge',
      false,
      [
        [0, 0, 0],
        [3, 0, 1],
        [3, 0, -1],
      ],
    ],
    [
      'a common corner, in the plane, overlapping',
      true,
      [
        [0, 0, 0],
        [3, 1, 0],
        [1, 3, 0],
      ],
    ],
    [
      'a common corner, in the plane, apart',
      false,
      [
        [0, 0, 0],
        [-3, -1, 0],
        [-1, -3, 0],
      ],
    ],
    [
      'the same corners',
      false,
      [
        [0, 6, 0],
        [0, 0, 0],
        [6, 0, 0],
      ],
    ],
    [
      'no area',
      false,
      [
        [1, 1, -1],
        [1, 1, 1],
        [1, 1, 0],
      ],
    ],
  ])('%s: %s', (_, expected, face) => {
    for (const one of turns(floor)) {
      for (const two of turns(face)) {
        expect(cross(one, two)).toBe(expected);
        expect(cross(two, one)).toBe(expected);
      }
    }
  });

  it('agrees with exact edge tests whenever no four points lie in one plane', () => {
    const point = fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -50, max: 50 })));
    const general = (points: readonly Point[]) => {
      for (let i = 0; i < points.length; i++)
        for (let j = i + 1; j < points.length; j++)
          for (let k = j + 1; k < points.length; k++)
            for (let l = k + 1; l < points.length; l++) {
              const [u, v, w] = [j, k, l].map(n => points[n].map((x, axis) => x - points[i][axis]));
              const det =
                u[0] * (v[1] * w[2] - v[2] * w[1]) -
                u[1] * (v[0] * w[2] - v[2] * w[0]) +
                u[2] * (v[0] * w[1] - v[1] * w[0]);
              if (det === 0) return false;
            }
      return true;
    };
    let crossing = 0;
    fc.assert(
      fc.property(fc.array(point, { minLength: 6, maxLength: 6 }).filter(general), ([a, b, c, d, e, f]) => {
        const expected = pierces([a, b, c], [d, e, f]);
        if (expected) crossing++;
        expect(cross([a, b, c], [d, e, f])).toBe(expected);
        // With a common corner, an edge opposite to it must pass through the other face.
        expect(cross([a, b, c], [a, d, e])).toBe(pierces([a, b, c], [a, d, e]));
      }),
      { numRuns: 2000 },
    );
    expect(crossing).toBeGreaterThan(100);
  });
});

/** All six orders of the corners. */
function turns([a, b, c]: readonly Point[]): Point[][] {
  return [
    [a, b, c],
    [b, c, a],
    [c, a, b],
    [a, c, b],
    [c, b, a],
    [b, a, c],
  ];
}
