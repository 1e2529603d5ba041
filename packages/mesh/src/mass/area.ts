import type { Mesh } from '../types.ts';

/** Sum of the areas of all faces, in mm². */
export function area(mesh: Mesh): number {
  const { positions, triangles } = mesh;
  let total = 0;
  for (let from = 0; from < triangles.length; from += 1536) {
    const to = Math.min(triangles.length, from + 1536);
    let part = 0;
    for (let base = from; base < to; base += 3) {
      const a = 3 * triangles[base];
      const b = 3 * triangles[base + 1];
      const c = 3 * triangles[base + 2];
      const ux = positions[b] - positions[a];
      const uy = positions[b + 1] - positions[a + 1];
      const uz = positions[b + 2] - positions[a + 2];
      const vx = positions[c] - positions[a];
      const vy = positions[c + 1] - positions[a + 1];
      const vz = positions[c + 2] - positions[a + 2];
      const nx = uy * vz - uz * vy;
      const ny = uz * vx - ux * vz;
      const nz = ux * vy - uy * vx;
      part += Math.sqrt(nx * nx + ny * ny + nz * nz);
    }
    total += part;
  }
  return total / 2;
}
