import { roundedRectangle, slot, softPlate } from './outline.ts';
import {
  cylinder,
  difference,
  hull,
  mirroredX,
  moved,
  turn,
  turnedX,
  turnedY,
  turnedZ,
  union,
  type Solid,
  type Vec2,
} from './solid.ts';
import { ellipsePath, sweep } from './sweep.ts';

export type Hand = 'left' | 'right';

/** What a cuff shell is made from. All lengths in millimeters. */
export interface CuffShellParams {
  readonly hand: Hand;
  /** Inner width of the cuff: the palm's breadth. Grows with the child. */
  readonly palmBreadth: number;
  /** Inner height of the cuff: the palm's thickness. */
  readonly palmThickness: number;
  /** Width of the band along the hand. */
  readonly bandWidth: number;
  readonly wall: number;
  /** Bore of the two hinge lugs, for an M3 screw. */
  readonly hingeBore: number;
  /** Between the leaf's knuckle and the middle of the band's wall below it. */
  readonly hingeRise: number;
  /** Blind bore that takes the utensil's handle. */
  readonly utensilBore: number;
  /** Bore of the boss, in which the clamping screw cuts its thread. */
  readonly clampBore: number;
  /** Place of the clamping screw's boss along the utensil bore, from the middle. */
  readonly bossAt: number;
  /** A stiffening rib around the outside. */
  readonly rib: boolean;
  /** Facets of a full circle; the band's curve uses the same number. */
  readonly segments: number;
}

/** A right-hand cuff for a palm of 58 mm. */
export const cuffShellDefaults: CuffShellParams = {
  hand: 'right',
  palmBreadth: 58,
  palmThickness: 26,
  bandWidth: 26,
  wall: 2.4,
  hingeBore: 3.2,
  hingeRise: 0.4,
  utensilBore: 9,
  clampBore: 2.6,
  bossAt: 5,
  rib: false,
  segments: 48,
};

/** Outer diameter of a hinge knuckle, for shell and leaf alike. */
export const knuckleDiameter = 8;
/** Length of one of the shell's two hinge lugs. */
export const lugLength = 6;

const startAngle = 128;
const endAngle = 416;
const socketLength = 30;
/** How far the socket is turned about y. */
export const socketTilt = 12;

/** Of the middle of the band's wall. */
function semiaxes({ palmBreadth, palmThickness, wall }: CuffShellParams): readonly [number, number] {
  return [(palmBreadth + wall) / 2, (palmThickness + wall) / 2];
}

/** Where the hinge's axis, along z, meets the plane of the band; of the right hand. */
export function hingeAxis(p: CuffShellParams): Vec2 {
  const [a, b] = semiaxes(p);
  const [cos, sin] = turn(startAngle);
  return [a * cos - 0.6, b * sin + knuckleDiameter / 2 + p.hingeRise];
}

/** The y of the socket's axis. */
export function socketHeight(p: CuffShellParams): number {
  const [, b] = semiaxes(p);
  return -b - p.wall / 2 - p.utensilBore / 2 - 0.4;
}

/**
 * The band around the palm: open over the back of the hand, two hinge lugs at one end, a strap slot at the other, and
 * a blind utensil socket with a clamping screw's boss on the palm side. The band's axis is z.
 */
export function cuffShell(params: Partial<CuffShellParams> = {}): Solid {
  const p = { ...cuffShellDefaults, ...params };
  const [a, b] = semiaxes(p);
  const corner = Math.min(1.1, p.wall / 2 - 0.05);
  const path = ellipsePath(a, b, startAngle, endAngle, p.segments);
  const band = sweep(roundedRectangle(p.wall, p.bandWidth, corner, 4), path);

  const [cosStart, sinStart] = turn(startAngle);
  const [hingeX, hingeY] = hingeAxis(p);
  const outer = p.bandWidth / 2 - 1;
  const lug = (low: number): Solid =>
    hull(
      moved(cylinder(knuckleDiameter, lugLength, p.segments), hingeX, hingeY, low),
      moved(softPlate(p.wall + 3, p.wall, lugLength, 0.8, 0.3, 4), a * cosStart - 1, b * sinStart, low),
    );
  const socketRadius = p.utensilBore / 2 + p.wall;
  const socketY = socketHeight(p);
  const socket = hull(
    turnedY(moved(cylinder(2 * socketRadius, socketLength, p.segments), 0, 0, -socketLength / 2), 90),
    turnedX(moved(softPlate(socketLength, 2 * socketRadius, 1.4, 2, 0.4, 6), 0, 0, socketRadius - 1.2), -90),
  );
  const placed = (part: Solid): Solid => moved(turnedY(part, socketTilt), 0, socketY, 0);
  const boss = turnedX(moved(cylinder(8, p.utensilBore / 2 + 4.5, p.segments, 7), p.bossAt, 0, 0), 90);
  const ribRing = sweep(
    roundedRectangle(1.6, 4, 0.7, 4),
    ellipsePath(a + p.wall / 2 + 0.4, b + p.wall / 2 + 0.4, 150, 235, p.segments),
    3,
  );

  // The bore is drilled from the thumb side and keeps a floor of one and a half walls.
  const depth = socketLength - 1.5 * p.wall;
  const bore = turnedY(
    moved(cylinder(p.utensilBore, depth + 1, p.segments), 0, 0, -socketLength / 2 - 1),
    -90,
  );
  const screw = turnedX(moved(cylinder(p.clampBore, p.utensilBore / 2 + 6, p.segments), p.bossAt, 0, 0), 90);
  const [cosEnd, sinEnd] = turn(endAngle - 14);
  const strap = moved(
    turnedZ(
      turnedY(moved(slot(18, 3.4, 12, p.segments), 0, 0, -6), 90),
      Math.atan2(a * sinEnd, b * cosEnd) * (180 / Math.PI),
    ),
    a * cosEnd,
    b * sinEnd,
    0,
  );
  const relief = turnedX(
    moved(cylinder(22, 2 * p.palmThickness, p.segments), a + 4, p.bandWidth / 2 + 6, -p.palmThickness),
    90,
  );

  const body = union(
    band,
    lug(-outer),
    lug(outer - lugLength),
    placed(socket),
    placed(boss),
    ...(p.rib ? [ribRing] : []),
  );
  const right = difference(
    body,
    moved(cylinder(p.hingeBore, p.bandWidth + 2, p.segments), hingeX, hingeY, -p.bandWidth / 2 - 1),
    placed(bore),
    placed(screw),
    strap,
    turnedX(relief, 180),
  );
  return p.hand === 'right' ? right : mirroredX(right);
}
