import { movedDirection, movedPoint, type Affine, type Vec3 } from '@kinprint/mesh';
import type { Flat } from '../check/rules/flats.ts';
import { across, dot, minus } from '../check/rules/vector.ts';
import type { Axis } from './axes.ts';

/** The middle plane of a slot or a tongue, or a face, where it is placed. */
export interface PlacedFlat {
  readonly at: Vec3;
  readonly normal: Vec3;
  readonly reach_mm: number;
}

export function placedFlat({ at_mm, normal, reach_mm }: Flat, motion: Affine): PlacedFlat {
  return { at: movedPoint(motion, at_mm), normal: movedDirection(motion, normal), reach_mm };
}

/** How something flat or round stands to a slot or a face. */
export interface FlatStanding {
  /** From the plane of the one to the middle of the other, along the normal of the one. */
  readonly ahead_mm: number;
  /** Between the planes, or the plane and the axis; 0 to 90. */
  readonly angle_deg: number;
  /** Whether the outward normals point against each other. */
  readonly opposed: boolean;
  /** Whether the other is near enough, along the plane, to be in the slot or on the face at all. */
  readonly within: boolean;
}

export function flatToFlat(one: PlacedFlat, other: PlacedFlat): FlatStanding {
  const apart = minus(other.at, one.at);
  const cosine = dot(one.normal, other.normal);
  return {
    ahead_mm: dot(apart, one.normal),
    // The arc cosine loses its digits near 0, the sine does not.
    angle_deg: degrees(Math.atan2(across(other.normal, one.normal), Math.abs(cosine))),
    opposed: cosine < 0,
    within: across(apart, one.normal) <= one.reach_mm + other.reach_mm,
  };
}

/** An axis in a slot: it lies in the middle plane, at any angle within it. */
export function axisToFlat(one: PlacedFlat, { at, direction, length_mm }: Axis): FlatStanding {
  const apart = minus(at, one.at);
  const sine = Math.abs(dot(direction, one.normal));
  return {
    ahead_mm: dot(apart, one.normal),
    angle_deg: degrees(Math.atan2(sine, across(direction, one.normal))),
    opposed: false,
    within: across(apart, one.normal) <= one.reach_mm + length_mm / 2,
  };
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
