import type { Mesh, Vec3 } from '@kinprint/mesh';
import { axisBounds } from '../pictures/axis-bounds.ts';

/** Evenly spaced places that coordinates are rounded to: `origin_mm + k · step_mm`, k = 0, 1, 2 … */
export interface Lattice {
  readonly step_mm: number;
  readonly origin_mm: Vec3;
}

/** Places along an axis: few enough that a difference of two still fits 32 bits after folding its sign. */
const mostPlaces = 2 ** 27;

/**
 * A lattice over all that is drawn of meshes, not coarser than wished unless they are so large for it that places would
 * run out. The step is a power of two and the origin a multiple of it, so that coordinates that are sums of such powers
 * stay as they are.
 *
 * A vertex moves by less than half a step along each axis, so by less than √3/2 steps.
 */
export function latticeOver(meshes: readonly Mesh[], wished_mm: number): Lattice {
  const { min, max } = axisBounds(meshes);
  const extent = Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  // Beyond the precision of the coordinates themselves a finer step says nothing.
  const far = Math.max(...min.map(Math.abs), ...max.map(Math.abs));
  const least = Math.max((2 * extent) / mostPlaces, far * 2 ** -52, 2 ** -60);
  const wished = wished_mm > 0 && wished_mm < Infinity ? powerBelow(wished_mm) : 0;
  const step_mm = Math.max(wished, powerBelow(2 * least));
  return { step_mm, origin_mm: min.map(v => Math.floor(v / step_mm) * step_mm) as unknown as Vec3 };
}

/** The largest power of two that is not above a positive number. */
function powerBelow(value: number): number {
  const power = 2 ** Math.floor(Math.log2(value));
  return power > value ? power / 2 : power;
}
