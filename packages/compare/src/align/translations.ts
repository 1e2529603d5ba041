import type { Vec3 } from '@kinprint/mesh';
import type { Candidate } from './candidates.ts';
import { identityPlacement, type Placement } from './placement.ts';
import type { Surface } from './surface.ts';

/**
 * No motion, and the plain shifts that bring one corner, the center, a pair of opposite sides or the centroid of
 * BEFORE onto AFTER's: a part that was only exported at another place, whatever else was done to it.
 */
export function plainShifts(before: Surface, after: Surface): Candidate[] {
  const shifts: Vec3[] = [
    [0, 0, 0],
    difference(after.center, before.center),
    difference(after.centroid, before.centroid),
  ];
  for (let corner = 0; corner < 27; corner += 1) {
    // Per axis: the lower sides, the upper sides, or the centers meet.
    const how = [corner % 3, Math.floor(corner / 3) % 3, Math.floor(corner / 9)];
    const shift = how.map((h, k) =>
      h === 0
        ? after.min[k] - before.min[k]
        : h === 1
          ? after.max[k] - before.max[k]
          : after.center[k] - before.center[k],
    );
    shifts.push([shift[0], shift[1], shift[2]]);
  }
  return shifts.map(shift => ({ placement: shifted(shift), votes: 0 }));
}

export function shifted(by: Vec3): Placement {
  const m = identityPlacement();
  m[3] = by[0];
  m[7] = by[1];
  m[11] = by[2];
  return m;
}

function difference(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
