import { bounds, type Bounds, type Mesh } from '@kinprint/mesh';

/** Box around all faces of the meshes; null when there is none. */
export function boundsOfAll(meshes: readonly Mesh[]): Bounds | null {
  return meshes
    .map(bounds)
    .reduce((all, one) => (all === null || one === null ? (all ?? one) : joined(all, one)), null);
}

/** Length of the diagonal of the box around all faces; 0 when there is none. */
export function diagonalOfAll(meshes: readonly Mesh[]): number {
  const box = boundsOfAll(meshes);
  return box === null ? 0 : diagonalOf(box);
}

export function diagonalOf({ min, max }: Bounds): number {
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}

function joined({ min: p, max: q }: Bounds, { min: r, max: s }: Bounds): Bounds {
  return {
    min: [Math.min(p[0], r[0]), Math.min(p[1], r[1]), Math.min(p[2], r[2])],
    max: [Math.max(q[0], s[0]), Math.max(q[1], s[1]), Math.max(q[2], s[2])],
  };
}
