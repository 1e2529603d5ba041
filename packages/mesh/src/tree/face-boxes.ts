import type { Mesh } from '../types.ts';

/** The boxes of the finite faces of a mesh, the input of a tree build. */
export interface FaceBoxes {
  readonly count: number;
  readonly center: readonly [number, number, number];
  readonly diagonal: number;
  /** Distances from `center` that most boxes lie within; the diagonal, unless few vertices lie absurdly far from all others. */
  readonly reach: number;
  /** 6 per face: least and greatest x, y, z minus `center`, rounded to the nearest 32-bit float. */
  readonly boxes: Float32Array;
  /** The face of each box; moved along when boxes are reordered. */
  readonly faces: Uint32Array;
}

/**
 * The bounds of a part are not a million times as wide as its middle half. Where they are, some vertices are wrong, and
 * about the middle of the bounds no 32-bit number would tell the others apart: every query would look at every face.
 */
const absurd = 2 ** 20;

/**
 * Boxes of all faces whose corners are finite, about the middle of their common bounds; about the medians of the
 * coordinates where the bounds are absurdly wide.
 */
export function faceBoxes(mesh: Mesh): FaceBoxes {
  const { positions, triangles } = mesh;
  const { min, max } = finiteBounds(positions);
  const width = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  const { medians, spread } = middleHalf(positions);
  const far = spread > 0 && width > absurd * spread;
  const center = far
    ? medians
    : ([middle(min[0], max[0]), middle(min[1], max[1]), middle(min[2], max[2])] as const);
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
  const diagonal = count === 0 ? 0 : width;
  return { count, center, diagonal, reach: far ? absurd * spread : diagonal, boxes, faces };
}

/** Coordinates that are looked at along each axis, evenly chosen. */
const looked = 1023;

/** Medians of the finite coordinates, and the widest distance from the first to the third quartile. */
function middleHalf(positions: Mesh['positions']): {
  readonly medians: readonly [number, number, number];
  readonly spread: number;
} {
  const count = positions.length / 3;
  const stride = Math.max(1, Math.floor(count / looked));
  const medians: [number, number, number] = [0, 0, 0];
  let spread = 0;
  for (let axis = 0; axis < 3; axis++) {
    const values: number[] = [];
    for (let v = 0; v < count; v += stride) {
      const value = positions[3 * v + axis];
      if (Number.isFinite(value)) values.push(value);
    }
    if (values.length === 0) continue;
    const sorted = Float64Array.from(values).sort();
    const at = (share: number): number => sorted[Math.floor(share * (sorted.length - 1))];
    medians[axis] = at(0.5);
    spread = Math.max(spread, at(0.75) - at(0.25));
  }
  return { medians, spread };
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
