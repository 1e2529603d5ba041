import type { Mesh } from '../types.ts';
import { side, turn } from './predicates.ts';

/** Faces filed by the columns along z that they cover, to count what lies above a point. */
export interface ColumnGrid {
  /** Cells filled, by all faces together: what the grid takes. */
  readonly cells: number;
  /**
   * Calls `crossed(face, way)` for every filed face straight above the point: `way` is +1 where the upward ray leaves
   * through the front of the face, −1 where it enters; `on(face)` for faces that the point lies on. Points above
   * edges and corners are counted once, as if moved a hair sideways. Exact. With `faces`, of those instead of the
   * filed ones.
   */
  above(
    x: number,
    y: number,
    z: number,
    crossed: (face: number, way: number) => void,
    on: (face: number) => void,
    faces?: ArrayLike<number>,
  ): void;
  /** How many faces `above` looks at. */
  filed(x: number, y: number): number;
}

/** Cells that a face is filed in at most, on average; a part's faces fill about 4; no source. */
const MOST_CELLS = 32;

export function columnGrid(mesh: Mesh, faces: ArrayLike<number>): ColumnGrid {
  const { positions, triangles } = mesh;
  const n = faces.length;
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < n; i++) {
    for (let h = 3 * faces[i]; h < 3 * faces[i] + 3; h++) {
      const x = positions[3 * triangles[h]];
      const y = positions[3 * triangles[h] + 1];
      if (x < x0) x0 = x;
      if (x > x1) x1 = x;
      if (y < y0) y0 = y;
      if (y > y1) y1 = y;
    }
  }
  // About one cell per face, at most a million; fewer where faces are so large that they would fill cell after cell.
  let across = 2 * Math.max(1, Math.min(1024, Math.floor(Math.sqrt(n))));
  let scaleX = 0;
  let scaleY = 0;
  const column = (x: number) => Math.min(across - 1, Math.max(0, Math.floor((x - x0) * scaleX)));
  const row = (y: number) => Math.min(across - 1, Math.max(0, Math.floor((y - y0) * scaleY)));
  /** First and last column, first and last row of a face. */
  const span = new Int32Array(4);
  const cover = (face: number): void => {
    const a = 3 * triangles[3 * face];
    const b = 3 * triangles[3 * face + 1];
    const c = 3 * triangles[3 * face + 2];
    span[0] = column(Math.min(positions[a], positions[b], positions[c]));
    span[1] = column(Math.max(positions[a], positions[b], positions[c]));
    span[2] = row(Math.min(positions[a + 1], positions[b + 1], positions[c + 1]));
    span[3] = row(Math.max(positions[a + 1], positions[b + 1], positions[c + 1]));
  };
  let entries = Infinity;
  while (entries > MOST_CELLS * n && across > 1) {
    across >>>= 1;
    scaleX = x1 > x0 ? across / (x1 - x0) : 0;
    scaleY = y1 > y0 ? across / (y1 - y0) : 0;
    entries = 0;
    for (let i = 0; i < n; i++) {
      cover(faces[i]);
      entries += (span[1] - span[0] + 1) * (span[3] - span[2] + 1);
    }
  }

  const starts = new Int32Array(across * across + 2);
  const list = new Int32Array(entries);
  for (const filling of [false, true]) {
    for (let i = 0; i < n; i++) {
      cover(faces[i]);
      for (let r = span[2]; r <= span[3]; r++) {
        for (let cell = r * across + span[0]; cell <= r * across + span[1]; cell++) {
          if (filling) list[starts[cell + 1]++] = faces[i];
          else starts[cell + 2]++;
        }
      }
    }
    if (!filling) for (let cell = 2; cell < starts.length; cell++) starts[cell] += starts[cell - 1];
  }

  return {
    cells: entries,
    filed(x, y) {
      if (!(x >= x0 && x <= x1 && y >= y0 && y <= y1)) return 0;
      const cell = row(y) * across + column(x);
      return starts[cell + 1] - starts[cell];
    },
    above(x, y, z, crossed, on, given) {
      if (!(x >= x0 && x <= x1 && y >= y0 && y <= y1)) return;
      const cell = row(y) * across + column(x);
      const point = [x, y, z];
      const from = given === undefined ? starts[cell] : 0;
      const to = given === undefined ? starts[cell + 1] : given.length;
      const looked = given ?? list;
      for (let k = from; k < to; k++) {
        const face = looked[k];
        const a = 3 * triangles[3 * face];
        const b = 3 * triangles[3 * face + 1];
        const c = 3 * triangles[3 * face + 2];
        const p = positions;
        if (p[a + 2] < z && p[b + 2] < z && p[c + 2] < z) continue;
        const way =
          passes(p[a], p[a + 1], p[b], p[b + 1], x, y) +
          passes(p[b], p[b + 1], p[c], p[c + 1], x, y) +
          passes(p[c], p[c + 1], p[a], p[a + 1], x, y);
        if (way === 0) continue;
        const front = side(p, a, b, c, point, 0);
        // Seen from above, `way` is the face's turn; the point is below the face when it sees the other turn.
        if (front === 0) on(face);
        else if (front > 0 !== way > 0) crossed(face, way);
      }
    },
  };
}

/** +1 when the edge passes the point's level upward on its right, −1 downward; each level has one owner. */
function passes(ax: number, ay: number, bx: number, by: number, x: number, y: number): number {
  if (ay <= y) return by > y && turn(ax, ay, bx, by, x, y) > 0 ? 1 : 0;
  return by <= y && turn(ax, ay, bx, by, x, y) < 0 ? -1 : 0;
}
