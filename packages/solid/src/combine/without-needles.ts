import { pairEdges, type Mesh } from '@kinprint/mesh';

/**
 * A closed surface with its needles flattened away: a triangle lower than `height_mm` over its longest edge is flipped
 * over that edge, so that its third corner splits the neighbor instead. The surface moves by less than that height;
 * vertices stay where they are.
 *
 * Booleans leave needles where a new vertex falls on an old edge but for rounding. A needle is left alone where the
 * flip would double an edge or turn a face over.
 */
export function withoutNeedles({ positions, triangles: given }: Mesh, height_mm: number): Mesh {
  const triangles = given.slice();
  const twins = Int32Array.from(pairEdges({ positions, triangles }).twins);
  const vertices = positions.length / 3;
  const key = (u: number, v: number) => Math.min(u, v) * vertices + Math.max(u, v);
  const edges = new Set<number>();
  for (let h = 0; h < triangles.length; h++) edges.add(key(triangles[h], triangles[next(h)]));

  const pair = (g: number, h: number): void => {
    if (g >= 0) twins[g] = h;
    if (h >= 0) twins[h] = g;
  };

  /** Flips the longest edge of a face if it is a needle; whether it did. */
  function flip(face: number): boolean {
    const h = longestEdge(positions, triangles, face);
    if (!isNeedle(positions, triangles, h, height_mm)) return false;
    const g = twins[h];
    if (g < 0) return false;
    const [a, b, c] = [triangles[h], triangles[next(h)], triangles[next(next(h))]];
    const d = triangles[next(next(g))];
    if (triangles[g] !== b || triangles[next(g)] !== a || c === d || edges.has(key(c, d))) return false;
    // What the neighbor is split into must look the same way as it does.
    const way = normal(positions, b, a, d);
    if (dot(way, normal(positions, a, d, c)) < 0 || dot(way, normal(positions, d, b, c)) < 0) return false;
    const [bc, ca] = [twins[next(h)], twins[next(next(h))]];
    const [ad, db] = [twins[next(g)], twins[next(next(g))]];
    // Face of h becomes (a, d, c), face of g (d, b, c).
    const f = h - (h % 3);
    const e = g - (g % 3);
    triangles.set([a, d, c], f);
    triangles.set([d, b, c], e);
    edges.delete(key(a, b));
    edges.add(key(c, d));
    pair(f, ad);
    pair(f + 1, e + 2);
    pair(f + 2, ca);
    pair(e, db);
    pair(e + 1, bc);
    return true;
  }

  for (let round = 0; round < maxRounds; round++) {
    let flipped = 0;
    for (let face = 0; face < triangles.length; face += 3) if (flip(face)) flipped++;
    if (flipped === 0) break;
  }
  return { positions, triangles };
}

/** A flip may make a needle of the neighbor. Common practice, no source. */
const maxRounds = 8;

function next(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}

type Positions = Mesh['positions'];
type Vector = readonly [number, number, number];

function between(p: Positions, u: number, v: number): Vector {
  return [p[3 * v] - p[3 * u], p[3 * v + 1] - p[3 * u + 1], p[3 * v + 2] - p[3 * u + 2]];
}

function dot(u: Vector, v: Vector): number {
  return u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
}

function normal(p: Positions, a: number, b: number, c: number): Vector {
  const [u, v] = [between(p, a, b), between(p, a, c)];
  return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
}

function longestEdge(p: Positions, triangles: Uint32Array, face: number): number {
  let best = face;
  let most = -1;
  for (let h = face; h < face + 3; h++) {
    const edge = between(p, triangles[h], triangles[next(h)]);
    const length = dot(edge, edge);
    if (length > most) [best, most] = [h, length];
  }
  return best;
}

function isNeedle(p: Positions, triangles: Uint32Array, h: number, height_mm: number): boolean {
  const [a, b, c] = [triangles[h], triangles[next(h)], triangles[next(next(h))]];
  const edge = between(p, a, b);
  const across = normal(p, a, b, c);
  return dot(across, across) < height_mm * height_mm * dot(edge, edge);
}
