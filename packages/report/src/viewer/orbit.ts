import type { Vec3 } from '@kinprint/mesh';
import { add, unit } from './vector.ts';

/** A parallel view of the part, z upward. Both halves of a pair share it. */
export interface Orbit {
  /** The point in the middle of the picture. */
  readonly target_mm: Vec3;
  /** Where the eye is: angle about z from −y (the front) toward x (the right), and above the xy plane; radians. */
  readonly azimuth: number;
  readonly elevation: number;
  /** Length that the shorter side of the picture shows. */
  readonly span_mm: number;
}

/** Unit vectors to the right and up in the picture, and toward the eye. */
export interface Axes {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly toward: Vec3;
}

export function axesOf({ azimuth, elevation }: Pick<Orbit, 'azimuth' | 'elevation'>): Axes {
  const [sa, ca] = [Math.sin(azimuth), Math.cos(azimuth)];
  const [se, ce] = [Math.sin(elevation), Math.cos(elevation)];
  return {
    right: [ca, sa, 0],
    up: [-sa * se, ca * se, ce],
    toward: [sa * ce, -ca * ce, se],
  };
}

/** The angles from which a direction is looked against. */
export function anglesToward(toward: Vec3): Pick<Orbit, 'azimuth' | 'elevation'> {
  const [x, y, z] = unit(toward);
  const level = Math.hypot(x, y);
  return { azimuth: level < 1e-9 ? 0 : Math.atan2(x, -y), elevation: Math.atan2(z, level) };
}

export function turned(orbit: Orbit, by: { readonly azimuth: number; readonly elevation: number }): Orbit {
  const limit = Math.PI / 2;
  const elevation = Math.max(-limit, Math.min(limit, orbit.elevation + by.elevation));
  return { ...orbit, azimuth: wrapped(orbit.azimuth + by.azimuth), elevation };
}

/** Moves what is seen by a length along the axes of the picture. */
export function shifted(orbit: Orbit, right_mm: number, up_mm: number): Orbit {
  const { right, up } = axesOf(orbit);
  return { ...orbit, target_mm: add(add(orbit.target_mm, right, -right_mm), up, -up_mm) };
}

/** @param factor above 1 shows things larger */
export function zoomed(orbit: Orbit, factor: number, most_mm: number): Orbit {
  const span_mm = Math.min(4 * most_mm, Math.max(1e-5 * most_mm, orbit.span_mm / factor));
  return { ...orbit, span_mm };
}

/** The span with which a box of that size about the target fits a picture, with some room around. */
export function fittingSpan(
  size_mm: Vec3,
  angles: Pick<Orbit, 'azimuth' | 'elevation'>,
  pane: { readonly width: number; readonly height: number },
): number {
  const { right, up } = axesOf(angles);
  const along = (axis: Vec3): number => size_mm.reduce((sum, v, k) => sum + v * Math.abs(axis[k]), 0);
  const perPixel = Math.max(along(right) / (0.84 * pane.width), along(up) / (0.76 * pane.height));
  return perPixel * Math.min(pane.width, pane.height);
}

/** Between two views, the shorter way round; `share` 0…1. */
export function between(from: Orbit, to: Orbit, share: number): Orbit {
  const blend = (a: number, b: number): number => a + (b - a) * share;
  return {
    target_mm: [0, 1, 2].map(k => blend(from.target_mm[k], to.target_mm[k])) as unknown as Vec3,
    azimuth: wrapped(from.azimuth + wrapped(to.azimuth - from.azimuth) * share),
    elevation: blend(from.elevation, to.elevation),
    span_mm: from.span_mm * (to.span_mm / from.span_mm) ** share,
  };
}

/** The same angle in −π…π. */
function wrapped(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}
