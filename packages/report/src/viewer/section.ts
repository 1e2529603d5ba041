import type { Vec3 } from '@kinprint/mesh';
import type { Cut } from './pick.ts';

export type AxisName = 'x' | 'y' | 'z';

/** A plane across an axis that cuts material away. */
export interface Section {
  readonly axis: AxisName;
  /** From the least place of the part on the axis to the greatest, 0…1. */
  readonly share: number;
  /** Keeps what is beyond the plane in place of what is before it. */
  readonly flipped: boolean;
}

export interface Range {
  readonly min_mm: Vec3;
  readonly max_mm: Vec3;
}

const axes = { x: 0, y: 1, z: 2 } as const;

/** Where the plane is, on its axis. */
export function sectionAt({ axis, share }: Section, { min_mm, max_mm }: Range): number {
  const k = axes[axis];
  return min_mm[k] + share * (max_mm[k] - min_mm[k]);
}

export function cutOf(section: Section, range: Range): Cut {
  const sign = section.flipped ? -1 : 1;
  const normal = [0, 0, 0];
  normal[axes[section.axis]] = sign;
  return { normal: normal as unknown as Vec3, at: sign * sectionAt(section, range) };
}
