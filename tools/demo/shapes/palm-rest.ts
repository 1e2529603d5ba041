import { slot, softPlate } from './outline.ts';
import { ball, difference, moved, type Solid } from './solid.ts';

/** What a palm rest is made from. All lengths in millimeters. */
export interface PalmRestParams {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  /** Facets of a full circle. */
  readonly segments: number;
}

export const palmRestDefaults: PalmRestParams = { length: 70, width: 40, thickness: 9, segments: 64 };

/** A soft rest for the palm: a shallow bowl, and a slot near each long edge for the strap. It stands on z = 0. */
export function palmRest(params: Partial<PalmRestParams> = {}): Solid {
  const p = { ...palmRestDefaults, ...params };
  const radius = 90;
  const bowl = moved(ball(2 * radius, 2 * p.segments), 0, 0, p.thickness - 3 + radius);
  const strap = slot(24, 4, p.thickness + 10, p.segments);
  const reach = p.width / 2 - 6;
  return difference(
    softPlate(p.length, p.width, p.thickness, 10, 1, p.segments / 8),
    bowl,
    moved(strap, 4, reach, -5),
    moved(strap, 4, -reach, -5),
  );
}
