import { softPlate } from './outline.ts';
import { cylinder, difference, hull, moved, turnedX, type Solid } from './solid.ts';

/** What a strap buckle is made from. All lengths in millimeters. */
export interface StrapBuckleParams {
  /** Width of the strap that passes. */
  readonly strap: number;
  /** Clear opening on each side of the middle bar. */
  readonly opening: number;
  /** Width of the frame's limbs. */
  readonly limb: number;
  readonly thickness: number;
  /** Facets of a full circle. */
  readonly segments: number;
}

export const strapBuckleDefaults: StrapBuckleParams = {
  strap: 20,
  opening: 6,
  limb: 4,
  thickness: 4,
  segments: 48,
};

/** A frame with a round middle bar and two openings, lying on z = 0; the strap runs along x. */
export function strapBuckle(params: Partial<StrapBuckleParams> = {}): Solid {
  const p = { ...strapBuckleDefaults, ...params };
  const sides = Math.max(2, Math.round(p.segments / 8));
  const bar = 4;
  const length = 2 * p.opening + bar + 2 * p.limb;
  const width = p.strap + 2 * p.limb;
  const window = (x: number): Solid =>
    hull(
      moved(softPlate(p.opening + 1.2, p.strap + 1.2, 0.4, 1.6, 0.1, sides), x, 0, p.thickness - 0.2),
      moved(softPlate(p.opening, p.strap, p.thickness, 1.2, 0.1, sides), x, 0, 0),
      moved(softPlate(p.opening + 1.2, p.strap + 1.2, 0.4, 1.6, 0.1, sides), x, 0, -0.2),
    );
  const middle = (p.opening + bar) / 2;
  // A round groove on each face of the bar lets the strap turn over it without a sharp edge.
  const groove = turnedX(moved(cylinder(3, p.strap, p.segments), 0, p.thickness + 0.9, -p.strap / 2), 90);
  return difference(
    softPlate(length, width, p.thickness, 5, 0.8, sides),
    window(-middle),
    window(middle),
    groove,
  );
}
