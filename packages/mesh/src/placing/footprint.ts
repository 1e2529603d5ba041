import type { Mesh, Vec3 } from '../types.ts';
import { convexHull } from './convex-hull.ts';

/** What a mesh takes up when it stands with one direction downward. */
export interface Footprint {
  readonly height_mm: number;
  /** Corners of the convex hull of its shadow on the bed: x, y, x, y …, counterclockwise seen from above. */
  readonly outline: Float64Array;
}

/**
 * The footprint of a mesh that stands on the bed with `down` downward. The bed's x is the mesh's x axis as it then
 * lies; where that stands upright, its y axis.
 *
 * @param down any length above 0
 */
export function footprint({ positions, triangles }: Mesh, down: Vec3): Footprint {
  const { across, along, up } = frame(down);
  const seen = new Uint8Array(positions.length / 3);
  const flat = new Float64Array(2 * seen.length);
  let [count, low, high] = [0, Infinity, -Infinity];
  // Vertices of no face take up no room.
  for (const v of triangles) {
    if (seen[v] === 1) continue;
    seen[v] = 1;
    const [x, y, z] = [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
    flat[2 * count] = across[0] * x + across[1] * y + across[2] * z;
    flat[2 * count + 1] = along[0] * x + along[1] * y + along[2] * z;
    count++;
    const height = up[0] * x + up[1] * y + up[2] * z;
    low = Math.min(low, height);
    high = Math.max(high, height);
  }
  return { height_mm: Math.max(0, high - low), outline: convexHull(flat.subarray(0, 2 * count)) };
}

/** Three unit vectors at right angles, right-handed. */
function frame(down: Vec3): { readonly across: Vec3; readonly along: Vec3; readonly up: Vec3 } {
  const length = Math.hypot(...down);
  const up: Vec3 = [-down[0] / length, -down[1] / length, -down[2] / length];
  const axis: Vec3 = Math.abs(up[0]) > 1 - 1e-9 ? [0, 1, 0] : [1, 0, 0];
  const lift = axis[0] * up[0] + axis[1] * up[1] + axis[2] * up[2];
  const flat = axis.map((value, k) => value - lift * up[k]);
  const size = Math.hypot(...flat);
  const across: Vec3 = [flat[0] / size, flat[1] / size, flat[2] / size];
  const along: Vec3 = [
    up[1] * across[2] - up[2] * across[1],
    up[2] * across[0] - up[0] * across[2],
    up[0] * across[1] - up[1] * across[0],
  ];
  return { across, along, up };
}
