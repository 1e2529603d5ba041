import { softPlate } from './outline.ts';
import { ball, cylinder, difference, intersection, moved, turnedX, union, type Solid } from './solid.ts';

/** What a grip pad is made from. All lengths in millimeters. */
export interface GripPadParams {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly segments: number;
}

export const gripPadDefaults: GripPadParams = { length: 36, width: 20, thickness: 6.5, segments: 48 };

/** A soft pad for the palm: domed, hollowed below to sit on the band, with grip knobs. It stands on z = 0. */
export function gripPad(params: Partial<GripPadParams> = {}): Solid {
  const p = { ...gripPadDefaults, ...params };
  const radius = 44;
  const dome = moved(ball(2 * radius, 2 * p.segments), 0, 0, p.thickness - radius);
  const knobs = Array.from({ length: 10 }, (_, i) => {
    const x = (Math.floor(i / 2) - 2) * 6.2;
    const y = (i % 2 === 0 ? -1 : 1) * 4.5;
    // Two thirds of a knob sink into the dome below it.
    const surface = p.thickness - radius + Math.sqrt(radius * radius - x * x - y * y);
    return moved(ball(3.2, Math.max(12, 4 * Math.round(p.segments / 12))), x, y, surface - 0.5);
  });
  const hollow = turnedX(moved(cylinder(60, p.width + 2, 4 * p.segments), 0, -29, -p.width / 2 - 1), 90);
  return union(
    difference(intersection(softPlate(p.length, p.width, p.thickness + 1, 6, 0.8, 8), dome), hollow),
    ...knobs,
  );
}
