import type { Mesh } from '../types.ts';
import { meshBuilder, type MeshBuilder } from './builder.ts';
import { ring } from './shapes.ts';

export interface Hole {
  /** Center; holes must be listed by ascending x, each inside its own strip of the plate. */
  readonly x: number;
  readonly y: number;
  /** Radius of the circle through the vertices. */
  readonly r: number;
  readonly sides: number;
  /** From the top down; through when absent. */
  readonly depth?: number;
}

/** Plate a × b × c, lowest corner at the origin, with round holes from the top face (z = c). */
export function plateWithHoles(a: number, b: number, c: number, holes: readonly Hole[]): Mesh {
  const m = meshBuilder();
  const cuts = [0, ...holes.slice(1).map((hole, i) => (holes[i].x + hole.x) / 2), a];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [x0, x1] = [cuts[i], cuts[i + 1]];
    const hole = holes[i];
    const floor = hole?.depth === undefined ? 0 : c - hole.depth;
    level(m, x0, x1, b, c, hole, true);
    level(m, x0, x1, b, 0, floor === 0 ? hole : undefined, false);
    const at = (x: number, y: number, z: number) => m.vertex(x, y, z);
    m.quad(at(x0, 0, 0), at(x1, 0, 0), at(x1, 0, c), at(x0, 0, c));
    m.quad(at(x1, b, 0), at(x0, b, 0), at(x0, b, c), at(x1, b, c));
    if (x0 === 0) m.quad(at(0, b, 0), at(0, 0, 0), at(0, 0, c), at(0, b, c));
    if (x1 === a) m.quad(at(a, 0, 0), at(a, b, 0), at(a, b, c), at(a, 0, c));
    if (hole === undefined) continue;
    const rim = ring(hole.sides, hole.r, [hole.x, hole.y]);
    const high = rim.map(([x, y]) => at(x, y, c));
    const low = rim.map(([x, y]) => at(x, y, floor));
    for (let k = 0; k < rim.length; k++) {
      const next = (k + 1) % rim.length;
      m.quad(low[next], low[k], high[k], high[next]);
    }
    if (floor > 0) m.polygon(low);
  }
  return m.mesh();
}

/** One strip of the top or bottom face: a rectangle, less the hole when there is one. */
function level(
  m: MeshBuilder,
  x0: number,
  x1: number,
  b: number,
  z: number,
  hole: Hole | undefined,
  up: boolean,
): void {
  const face = (i: number, j: number, k: number) => {
    if (up) m.triangle(i, j, k);
    else m.triangle(i, k, j);
  };
  const corners = [
    [x0, 0],
    [x1, 0],
    [x1, b],
    [x0, b],
  ].map(([x, y]) => m.vertex(x, y, z));
  if (hole === undefined) {
    face(corners[0], corners[1], corners[2]);
    face(corners[0], corners[2], corners[3]);
    return;
  }
  const rim = ring(hole.sides, hole.r, [hole.x, hole.y]).map(([x, y]) => m.vertex(x, y, z));
  // Each side of the rectangle gets the rim vertex that faces it; what lies between goes to the corner between.
  const n = hole.sides;
  const facing = [0, 1, 2, 3].map(side => Math.round((((side + 3) % 4) * n) / 4));
  for (let side = 0; side < 4; side++) {
    const next = (side + 1) % 4;
    face(corners[side], corners[next], rim[facing[side] % n]);
    const last = facing[next] < facing[side] ? facing[next] + n : facing[next];
    for (let k = facing[side]; k < last; k++) face(rim[(k + 1) % n], rim[k % n], corners[next]);
  }
}
