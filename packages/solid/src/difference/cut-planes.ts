import type { Bounds, Mesh } from '@kinprint/mesh';
import type { ChangedBox } from './boxes.ts';

/** A half-space along an axis: what lies at or above `at` is kept (`keep: 'above'`), or at or below. */
export interface Cut {
  readonly axis: 0 | 1 | 2;
  readonly at: number;
  readonly keep: 'above' | 'below';
}

/**
 * The cuts (at most six) that reduce both meshes to the neighborhood of a box. A cut runs in the widest gap between
 * vertex coordinates that its room allows, so that it passes no vertex closely; a cut with nothing beyond is left
 * out. Those that take most away come first. The order of the meshes does not matter.
 */
export function cutsAround({ bounds, margin }: ChangedBox, meshes: readonly Mesh[]): readonly Cut[] {
  const cuts: { cut: Cut; beyond: number }[] = [];
  const near: Bounds = inflated(bounds, 2 * margin);
  const local = meshes.map(mesh => pointsWithin(mesh, near));
  for (const axis of [0, 1, 2] as const) {
    const low = bounds.min[axis];
    const high = bounds.max[axis];
    const above: Cut = { axis, at: widestGap(local, axis, low - 2 * margin, low - margin), keep: 'above' };
    const below: Cut = { axis, at: widestGap(local, axis, high + margin, high + 2 * margin), keep: 'below' };
    for (const cut of [above, below]) {
      const beyond = meshes.reduce((sum, mesh) => sum + countBeyond(mesh, cut), 0);
      if (beyond > 0) cuts.push({ cut, beyond });
    }
  }
  return cuts.sort((p, q) => q.beyond - p.beyond).map(({ cut }) => cut);
}

function inflated({ min, max }: Bounds, by: number): Bounds {
  return { min: [min[0] - by, min[1] - by, min[2] - by], max: [max[0] + by, max[1] + by, max[2] + by] };
}

function pointsWithin({ positions }: Mesh, { min, max }: Bounds): Float64Array {
  const found: number[] = [];
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    if (x < min[0] || x > max[0] || y < min[1] || y > max[1] || z < min[2] || z > max[2]) continue;
    found.push(x, y, z);
  }
  return Float64Array.from(found);
}

function widestGap(local: readonly Float64Array[], axis: number, from: number, to: number): number {
  const values: number[] = [from, to];
  for (const points of local) {
    for (let i = axis; i < points.length; i += 3) {
      if (points[i] > from && points[i] < to) values.push(points[i]);
    }
  }
  const sorted = Float64Array.from(values).sort();
  let best = 0;
  for (let i = 0; i + 1 < sorted.length; i++) {
    if (sorted[i + 1] - sorted[i] > sorted[best + 1] - sorted[best]) best = i;
  }
  return (sorted[best] + sorted[best + 1]) / 2;
}

function countBeyond({ positions }: Mesh, { axis, at, keep }: Cut): number {
  let count = 0;
  for (let i = axis; i < positions.length; i += 3) {
    if (keep === 'above' ? positions[i] < at : positions[i] > at) count++;
  }
  return count;
}
