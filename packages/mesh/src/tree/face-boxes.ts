import type { Mesh } from '../types.ts';

/** The boxes of the finite faces of a mesh, the input of a tree build. */
export interface FaceBoxes {
  readonly count: number;
  readonly center: readonly [number, number, number];
  readonly diagonal: number;
  /** 6 per face: least and greatest x, y, z minus `center`, rounded to the nearest 32-bit float. */
  readonly boxes: Float32Array;
  /** The face of each box; moved along when boxes are reordered. */
  readonly faces: Uint32Array;
}

/** Boxes of all faces whose corners are finite, about the middle of their common bounds. */
export function faceBoxes(mesh: Mesh): FaceBoxes {
  const { positions, triangles } = mesh;
  const { min, max } = finiteBounds(positions);
  const center = [middle(min[0], max[0]), middle(min[1], max[1]), middle(min[2], max[2])] as const;
  const [cx, cy, cz] = center;
  const total = triangles.length / 3;
  const boxes = new Float32Array(6 * total);
  const faces = new Uint32Array(total);
  let count = 0;
  for (let face = 0; face < total; face++) {
    const a = 3 * triangles[3 * face];
    const b = 3 * triangles[3 * face + 1];
    const c = 3 * triangles[3 * face + 2];
    const ax = positions[a] - cx;
    const ay = positions[a + 1] - cy;
    const az = positions[a + 2] - cz;
    const bx = positions[b] - cx;
    const by = positions[b + 1] - cy;
    const bz = positions[b + 2] - cz;
    const dx = positions[c] - cx;
    const dy = positions[c + 1] - cy;
    const dz = positions[c + 2] - cz;
    const sum = ax + ay + az + bx + by + bz + dx + dy + dz;
    if (sum - sum !== 0) continue;
    const at = 6 * count;
    boxes[at] = Math.min(ax, bx, dx);
    boxes[at + 1] = Math.min(ay, by, dy);
    boxes[at + 2] = Math.min(az, bz, dz);
    boxes[at + 3] = Math.max(ax, bx, dx);
    boxes[at + 4] = Math.max(ay, by, dy);
    boxes[at + 5] = Math.max(az, bz, dz);
    faces[count++] = face;
  }
  const diagonal = count === 0 ? 0 : Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  return { count, center, diagonal, boxes, faces };
}

function middle(low: number, high: number): number {
  return low <= high ? low + (high - low) / 2 : 0;
}

function finiteBounds(positions: Mesh['positions']): { min: number[]; max: number[] } {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let axis = 0; axis < 3; axis++) {
    let low = Infinity;
    let high = -Infinity;
    for (let i = axis; i < positions.length; i += 3) {
      const value = positions[i];
      if (value < low && value !== -Infinity) low = value;
      if (value > high && value !== Infinity) high = value;
    }
    min[axis] = low;
    max[axis] = high;
  }
  return { min, max };
}
