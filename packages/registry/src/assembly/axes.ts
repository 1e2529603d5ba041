import type { Round } from '../check/rules/match-rounds.ts';
import { across, dot, minus } from '../check/rules/vector.ts';
import { movedDirection, movedPoint, type Affine, type Vec3 } from '@kinprint/mesh';

/** The axis of a bore or a pin where it is placed, over the length of the feature. */
export interface Axis {
  readonly at: Vec3;
  readonly direction: Vec3;
  readonly length_mm: number;
}

export function axisOf({ at_mm, axis, length_mm }: Round, motion: Affine): Axis {
  return { at: movedPoint(motion, at_mm), direction: movedDirection(motion, axis), length_mm };
}

/** How two axes stand to one another. */
export interface AxesStanding {
  readonly offset_mm: number;
  readonly angle_deg: number;
  readonly overlap_mm: number;
}

/** The standing of `other` to `one`, measured at the middle of `one`. */
export function standingOf(one: Axis, other: Axis): AxesStanding {
  const apart = minus(other.at, one.at);
  const cosine = Math.min(1, Math.abs(dot(one.direction, other.direction)));
  const half = (other.length_mm / 2) * cosine;
  const along = dot(apart, one.direction);
  const low = Math.max(-one.length_mm / 2, along - half);
  const high = Math.min(one.length_mm / 2, along + half);
  // The arc cosine loses its digits near 0, the sine does not.
  const sine = across(other.direction, one.direction);
  return {
    offset_mm: across(apart, other.direction),
    angle_deg: (Math.atan2(sine, cosine) * 180) / Math.PI,
    overlap_mm: high - low,
  };
}

/** The smaller, the more likely the two belong together: in line first, then near along the axis. */
export function distanceApart({ offset_mm, angle_deg, overlap_mm }: AxesStanding): number {
  return offset_mm + angle_deg + 0.01 * Math.max(0, -overlap_mm);
}
