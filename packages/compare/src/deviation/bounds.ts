/** What is known so far of a maximum distance. Passed along and narrowed. */
export interface DistanceBounds {
  /** A distance that some point really has, and that point. */
  low: number;
  x: number;
  y: number;
  z: number;
  /** No point looked at so far lies farther than this or `low`. */
  high: number;
}

/** Nothing known. */
export function noBounds(): DistanceBounds {
  return { low: -1, x: NaN, y: NaN, z: NaN, high: 0 };
}

/** Takes in the true distance of a point. */
export function raiseLow(bounds: DistanceBounds, distance: number, x: number, y: number, z: number): void {
  if (distance <= bounds.low) return;
  bounds.low = distance;
  bounds.x = x;
  bounds.y = y;
  bounds.z = z;
}
