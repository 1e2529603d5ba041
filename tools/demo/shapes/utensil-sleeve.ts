import { slot } from './outline.ts';
import { cylinder, difference, hull, moved, turnedX, union, type Solid } from './solid.ts';

/** What a utensil sleeve is made from. All lengths in millimeters. */
export interface UtensilSleeveParams {
  readonly length: number;
  /** A round foot below the taper that fits the socket: its diameter and length; null for a sleeve that tapers all along. */
  readonly spigot: { readonly diameter: number; readonly length: number } | null;
  /** Where the cross bore is, from the socket's end; a third of the length where null. */
  readonly crossAt: number | null;
  /** Outer diameters of the taper at the socket's end and at the utensil's end. */
  readonly low: number;
  readonly high: number;
  /** The flat handle: width and thickness of the opening. */
  readonly handleWidth: number;
  readonly handleThickness: number;
  readonly segments: number;
}

export const utensilSleeveDefaults: UtensilSleeveParams = {
  length: 38,
  spigot: null,
  crossAt: null,
  low: 8.8,
  high: 12,
  handleWidth: 5.6,
  handleThickness: 2.4,
  segments: 48,
};

/** A tapered sleeve that makes a flat handle fit the round socket: collar, oblong opening, cross bore. Its axis is z. */
export function utensilSleeve(params: Partial<UtensilSleeveParams> = {}): Solid {
  const p = { ...utensilSleeveDefaults, ...params };
  const collar = hull(
    moved(cylinder(p.high + 4, 2, p.segments), 0, 0, p.length - 3),
    moved(cylinder(p.high + 2, 4, p.segments), 0, 0, p.length - 4),
  );
  const foot = p.spigot?.length ?? 0;
  const taper = moved(cylinder(p.low, p.length - foot, p.segments, p.high), 0, 0, foot);
  return difference(
    p.spigot === null
      ? union(cylinder(p.low, p.length, p.segments, p.high), collar)
      : union(cylinder(p.spigot.diameter, foot, p.segments), taper, collar),
    moved(slot(p.handleWidth, p.handleThickness, p.length + 2, p.segments), 0, 0, -1),
    turnedX(moved(cylinder(2.6, p.high + 2, p.segments), 0, p.crossAt ?? p.length / 3, -p.high / 2 - 1), 90),
  );
}
