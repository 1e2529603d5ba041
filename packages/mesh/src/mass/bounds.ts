import type { Bounds, Mesh } from '../types.ts';

/** Box around the vertices that faces use; null when there is no face. */
export function bounds(mesh: Mesh): Bounds | null {
  const { positions, triangles } = mesh;
  if (triangles.length === 0) return null;
  return boundsOf(positions, usedVertices(mesh));
}

/** 1 for every vertex that a face uses, else 0. */
export function usedVertices(mesh: Mesh): Uint8Array {
  const { positions, triangles } = mesh;
  const used = new Uint8Array(positions.length / 3);
  for (let i = 0; i < triangles.length; i++) used[triangles[i]] = 1;
  return used;
}

/** Box around all vertices, or those marked in `used`; there must be at least one. */
export function boundsOf(positions: Mesh['positions'], used: Uint8Array | null): Bounds {
  let [x0, y0, z0] = [Infinity, Infinity, Infinity];
  let [x1, y1, z1] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    if (used !== null && used[i / 3] === 0) continue;
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
    if (z < z0) z0 = z;
    if (z > z1) z1 = z;
  }
  return { min: [x0, y0, z0], max: [x1, y1, z1] };
}

/** Length of the space diagonal of a box. */
export function diagonal(box: Bounds): number {
  return Math.hypot(box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]);
}

export function center(box: Bounds): [number, number, number] {
  return [0, 1, 2].map(k => box.min[k] + (box.max[k] - box.min[k]) / 2) as [number, number, number];
}
