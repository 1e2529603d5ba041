import { closestPoint, type ClosestHit, type TriangleTree } from '@kinprint/mesh';
import { raiseLow, type DistanceBounds } from './bounds.ts';
import type { Frame } from './frame.ts';

/** What the bound of one triangle works against. */
export interface CoverTask {
  readonly bounds: DistanceBounds;
  /** Pieces are refined until they are known to lie below `bounds.low` + `epsilon`. */
  epsilon: number;
  /** … and, while no point of the triangle is known to lie beyond it, to lie within this. */
  readonly tolerance: number;
  /** The triangle has a point beyond the tolerance, or one so close to it that it was not told apart. */
  changed: boolean;
  /** Pieces that may still be looked at. */
  work: number;
}

/**
 * Bounds one triangle: its corners (9 numbers), a slot of the other tree near it, and an upper bound of its distance
 * that holds already. Returns false when it did not come to an end; nothing is then known of some part of the triangle.
 */
export type Cover = (task: CoverTask, triangle: Float64Array, target: number, known: number) => boolean;

/** What a piece must be proven to lie within. */
export function threshold(task: CoverTask): number {
  const limit = task.bounds.low + task.epsilon;
  return task.changed ? limit : Math.min(limit, task.tolerance);
}

/** True distance of the point (x, y) of the frame's plane from the surface of `to`; the nearest face is in `hit`. */
export function measurePoint(
  task: CoverTask,
  to: TriangleTree,
  frame: Frame,
  x: number,
  y: number,
  hintSlot: number,
  hit: ClosestHit,
): number {
  const { origin, axes } = frame;
  const px = origin[0] + axes[0] * x + axes[3] * y;
  const py = origin[1] + axes[1] * x + axes[4] * y;
  const pz = origin[2] + axes[2] * x + axes[5] * y;
  closestPoint(to, px, py, pz, hit, Infinity, to.faceOf[hintSlot]);
  const distance = Math.sqrt(hit.distanceSq);
  raiseLow(task.bounds, distance, px, py, pz);
  if (distance > task.tolerance) task.changed = true;
  return distance;
}
