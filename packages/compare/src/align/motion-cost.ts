import type { Vec3 } from '@kinprint/mesh';
import { applyPlacement, type Placement } from './placement.ts';
import { placementParts } from './describe.ts';

/** How far a placement is from leaving the part where it is. */
export interface MotionCost {
  readonly scaled: boolean;
  readonly mirrored: boolean;
  /** Radians. */
  readonly angle: number;
  /** Motion of the center of BEFORE's bounds, in mm. */
  readonly shift: number;
}

export function motionCost(m: Placement, center: Vec3): MotionCost {
  const { scale, mirrored, angle } = placementParts(m);
  const moved = applyPlacement(m, center);
  return {
    scaled: scale.some(s => s !== 1),
    mirrored,
    angle,
    shift: Math.hypot(moved[0] - center[0], moved[1] - center[1], moved[2] - center[2]),
  };
}

/**
 * Negative when `a` is closer to no motion: unscaled before scaled, unmirrored before mirrored, the smaller
 * rotation, then the smaller shift. Differences within `angle` and `shift` count as none.
 */
export function compareCosts(a: MotionCost, b: MotionCost, angle: number, shift: number): number {
  if (a.scaled !== b.scaled) return a.scaled ? 1 : -1;
  if (a.mirrored !== b.mirrored) return a.mirrored ? 1 : -1;
  if (Math.abs(a.angle - b.angle) > angle) return a.angle - b.angle;
  if (Math.abs(a.shift - b.shift) > shift) return a.shift - b.shift;
  return 0;
}
