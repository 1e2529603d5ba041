/** A triangle soup: nine coordinates per face, and as many of its normals. */
export interface Soup {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
}

/**
 * Halves the longest edge of every face until none is longer than `longest`, or until there are `most` faces. Shape and
 * shading stay as they are; halving at the middle of shared edges leaves no gaps, since both sides halve them alike.
 */
export function refined({ positions, normals }: Soup, longest: number, most: number): Soup {
  const p: number[] = [];
  const n: number[] = [];
  const limitSq = longest * longest;
  let faces = positions.length / 9;
  // Corners of the faces still to be looked at: positions, then normals.
  const stack: number[][] = [];
  for (let f = 0; f < positions.length; f += 9) {
    stack.push([...positions.subarray(f, f + 9), ...normals.subarray(f, f + 9)]);
    while (stack.length > 0) {
      const face = stack.pop() as number[];
      const [a, b, c] = [lengthSq(face, 0, 3), lengthSq(face, 3, 6), lengthSq(face, 6, 0)];
      const widest = Math.max(a, b, c);
      if (!(widest > limitSq) || faces >= most) {
        for (let k = 0; k < 9; k++) {
          p.push(face[k]);
          n.push(face[9 + k]);
        }
        continue;
      }
      const edge = widest === a ? 0 : widest === b ? 3 : 6;
      stack.push(...halves(face, edge));
      faces++;
    }
  }
  return { positions: Float32Array.from(p), normals: Float32Array.from(n) };
}

/**
 * The longest edge that leaves about so many faces: halving ends with edges between half of it and all of it, and faces
 * of a tenth of its square or so.
 */
export function edgeFor(area: number, faces: number): number {
  return Math.sqrt((10 * area) / faces);
}

/** The length of the longest edge. */
export function longestEdge({ positions }: Soup): number {
  let most = 0;
  for (let f = 0; f < positions.length; f += 9)
    for (const [i, j] of sides) most = Math.max(most, lengthSq(positions, f + i, f + j));
  return Math.sqrt(most);
}

const sides = [
  [0, 3],
  [3, 6],
  [6, 0],
] as const;

function lengthSq(face: ArrayLike<number>, i: number, j: number): number {
  const [x, y, z] = [face[i] - face[j], face[i + 1] - face[j + 1], face[i + 2] - face[j + 2]];
  return x * x + y * y + z * z;
}

/** Two faces in place of one, divided from the middle of the edge that starts at corner `i` to the corner across. */
function halves(face: readonly number[], i: number): [number[], number[]] {
  const [j, k] = [(i + 3) % 9, (i + 6) % 9];
  const corner = (at: number, of: number): number[] => face.slice(of + at, of + at + 3);
  const middle = (of: number): number[] =>
    [0, 1, 2].map(axis => (face[of + i + axis] + face[of + j + axis]) / 2);
  const of = (build: (of: number) => number[]): number[] => [...build(0), ...build(9)];
  return [
    of(s => [...corner(i, s), ...middle(s), ...corner(k, s)]),
    of(s => [...middle(s), ...corner(j, s), ...corner(k, s)]),
  ];
}
