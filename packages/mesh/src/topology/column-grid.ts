import type { Mesh } from '../types.ts';
import { side, turn } from './predicates.ts';

/** Faces filed by the columns along z that they cover, to count what lies above a point. */
export interface ColumnGrid {
  /**
   * Calls `crossed(face, way)` for every filed face straight above the point: `way` is +1 where the upward ray leaves
   * through the front of the face, −1 where it enters; `on(face)` for faces that the point lies on. Points above
   * edges and corners are counted once, as if moved a hair sideways. Exact.
   */
  above(
    x: number,
    y: number,
    z: number,
    crossed: (face: number, way: number) => void,
    on: (face: number) => void,
  ): void;
}

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
  // About one cell per face, at most a million.
  const across = Math.max(1, Math.min(1024, Math.floor(Math.sqrt(n))));
  const scaleX = x1 > x0 ? across / (x1 - x0) : 0;
  const scaleY = y1 > y0 ? across / (y1 - y0) : 0;
  const column = (x: number) => Math.min(across - 1, Math.max(0, Math.floor((x - x0) * scaleX)));
  const row = (y: number) => Math.min(across - 1, Math.max(0, Math.floor((y - y0) * scaleY)));

  const starts = new Int32Array(across * across + 2);
  let list = new Int32Array(0);
  for (const filling of [false, true]) {
    for (let i = 0; i < n; i++) {
      const a = 3 * triangles[3 * faces[i]];
      const b = 3 * triangles[3 * faces[i] + 1];
      const c = 3 * triangles[3 * faces[i] + 2];
      const left = column(Math.min(positions[a], positions[b], positions[c]));
      const right = column(Math.max(positions[a], positions[b], positions[c]));
      const low = row(Math.min(positions[a + 1], positions[b + 1], positions[c + 1]));
      const high = row(Math.max(positions[a + 1], positions[b + 1], positions[c + 1]));
      for (let r = low; r <= high; r++) {
        for (let cell = r * across + left; cell <= r * across + right; cell++) {
          if (filling) list[starts[cell + 1]++] = faces[i];
          else starts[cell + 2]++;
        }
      }
    }
    if (filling) break;
    for (let cell = 2; cell < starts.length; cell++) starts[cell] += starts[cell - 1];
    list = new Int32Array(starts[starts.length - 1]);
  }

  return {
    above(x, y, z, crossed, on) {
      if (!(x >= x0 && x <= x1 && y >= y0 && y <= y1)) return;
      const cell = row(y) * across + column(x);
      const point = [x, y, z];
      for (let k = starts[cell]; k < starts[cell + 1]; k++) {
        const face = list[k];
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
