import type { Bounds, Mesh, Vec3 } from '@kinprint/mesh';
import { boundsOfAll } from './extent.ts';

/** A local frame for the kernel: `local = (point − center) · scale`. Scale is a power of two, so it rounds nothing. */
export interface Frame {
  readonly center: Vec3;
  readonly scale: number;
}

/** The frame that changes nothing. */
const still: Frame = { center: [0, 0, 0], scale: 1 };

/** A frame that brings the faces of all given meshes near the origin, at a size of about 1. */
export function frameOf(...meshes: readonly Mesh[]): Frame {
  return frameOfBox(boundsOfAll(meshes));
}

/**
 * The frame for a box. Meshes cross into the kernel in single precision, so distance from the origin costs digits.
 *
 * An axis is moved only when the box lies far off along it, and then by a round binary number: values that a
 * single-precision file holds cross without any rounding either way.
 */
export function frameOfBox(box: Bounds | null): Frame {
  if (box === null) return still;
  const { min, max } = box;
  let half = 0;
  for (let k = 0; k < 3; k++) half = Math.max(half, (max[k] - min[k]) / 2);
  if (!(half > 0) || !Number.isFinite(half)) return still;
  const unit = 2 ** Math.floor(Math.log2(half));
  const step = unit / 4;
  const at = (k: 0 | 1 | 2): number => {
    const middle = (min[k] + max[k]) / 2;
    return Math.abs(middle) <= 2 * half ? 0 : Math.round(middle / step) * step;
  };
  return { center: [at(0), at(1), at(2)], scale: 1 / unit };
}
