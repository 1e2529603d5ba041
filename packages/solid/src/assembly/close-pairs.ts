import type { Affine, Bounds, Mesh } from '@kinprint/mesh';

/** Box around a mesh where it is placed; null when it has no faces. */
export function placedBounds({ positions, triangles }: Mesh, placement: Affine): Bounds | null {
  if (triangles.length === 0) return null;
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const v of triangles) {
    const [x, y, z] = [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
    for (let k = 0; k < 3; k++) {
      const row = placement[k];
      const value = row[0] * x + row[1] * y + row[2] * z + row[3];
      if (value < min[k]) min[k] = value;
      if (value > max[k]) max[k] = value;
    }
  }
  return { min, max };
}

/** The box that two boxes share; null when it is thinner than `least_mm` along an axis. */
export function sharedBox(p: Bounds, q: Bounds, least_mm: number): Bounds | null {
  const at = (k: 0 | 1 | 2) => [Math.max(p.min[k], q.min[k]), Math.min(p.max[k], q.max[k])] as const;
  const [x, y, z] = [at(0), at(1), at(2)];
  if ([x, y, z].some(([low, high]) => !(high - low >= least_mm))) return null;
  return { min: [x[0], y[0], z[0]], max: [x[1], y[1], z[1]] };
}

/**
 * Pairs of boxes that share more than `least_mm` along every axis, by index, in order. Sweeps along x: boxes that lie
 * in a row are never compared all with all.
 */
export function closePairs(
  boxes: readonly (Bounds | null)[],
  least_mm: number,
): (readonly [number, number])[] {
  const sorted = boxes.flatMap((box, index) => (box === null ? [] : [{ box, index }]));
  sorted.sort((p, q) => p.box.min[0] - q.box.min[0] || p.index - q.index);
  const pairs: (readonly [number, number])[] = [];
  let open: typeof sorted = [];
  for (const next of sorted) {
    open = open.filter(({ box }) => box.max[0] - next.box.min[0] >= least_mm);
    for (const { box, index } of open) {
      if (sharedBox(box, next.box, least_mm) === null) continue;
      pairs.push(index < next.index ? [index, next.index] : [next.index, index]);
    }
    open.push(next);
  }
  return pairs.sort(([a, b], [c, d]) => a - c || b - d);
}
