import { knuckleDiameter } from './cuff-shell.ts';
import { softPlate, slot } from './outline.ts';
import { cylinder, difference, hull, moved, turnedX, union, type Solid } from './solid.ts';

/** What a hinge leaf is made from. All lengths in millimeters. */
export interface HingeLeafParams {
  /** From the hinge's axis to the far edge; grows with the palm. */
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  /** Where the plate begins, from the hinge's axis; the neck alone goes nearer. */
  readonly plateFrom: number;
  /** Length of the knuckle along the hinge's axis. */
  readonly knuckle: number;
  /** Bore of the knuckle, for an M3 screw. */
  readonly hingeBore: number;
  /** Clearance of the two countersunk M3 screws. */
  readonly screwHole: number;
  readonly segments: number;
}

export const hingeLeafDefaults: HingeLeafParams = {
  length: 30,
  width: 23,
  thickness: 3,
  plateFrom: 3,
  knuckle: 10.6,
  hingeBore: 3.2,
  screwHole: 3.4,
  segments: 48,
};

/** Head of a countersunk M3 screw, with room to spare. */
const headDiameter = 6.6;

/**
 * The leaf that closes the cuff over the back of the hand: a plate with one knuckle between the shell's lugs, two
 * countersunk holes for a pad and a slot for the strap. It lies flat on z = 0, the hinge's axis along y.
 */
export function hingeLeaf(params: Partial<HingeLeafParams> = {}): Solid {
  const p = { ...hingeLeafDefaults, ...params };
  const plate = moved(
    softPlate(p.length - p.plateFrom, p.width, p.thickness, 3.5, 0.5, 6),
    (p.length + p.plateFrom) / 2,
    0,
    0,
  );
  const barrel = turnedX(
    moved(cylinder(knuckleDiameter, p.knuckle, p.segments), 0, knuckleDiameter / 2, -p.knuckle / 2),
    90,
  );
  const neck = moved(softPlate(6, p.knuckle, p.thickness, 0.8, 0.3, 4), 5, 0, 0);
  const hole = (y: number): Solid =>
    moved(
      union(
        moved(cylinder(p.screwHole, p.thickness + 2, p.segments), 0, 0, -1),
        moved(
          cylinder(p.screwHole, (headDiameter - p.screwHole) / 2 + 0.2, p.segments, headDiameter + 0.4),
          0,
          0,
          p.thickness - (headDiameter - p.screwHole) / 2,
        ),
      ),
      p.length / 2,
      y,
      0,
    );
  return difference(
    union(plate, hull(barrel, neck)),
    turnedX(
      moved(
        cylinder(p.hingeBore, p.knuckle + 2, p.segments),
        0,
        knuckleDiameter / 2,
        -p.knuckle / 2 - 1,
      ),
      90,
    ),
    hole(-6),
    hole(6),
    moved(turnedAcross(slot(16, 3, p.thickness + 2, p.segments)), p.length - 4.5, 0, -1),
  );
}

/** From along x to along y. */
function turnedAcross(part: Solid): Solid {
  return { op: 'affine', part, map: [0, -1, 0, 0, 1, 0, 0, 0, 0, 0, 1, 0] };
}
