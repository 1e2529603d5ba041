import { softPlate } from '../demo/shapes/outline.ts';
import { box, cylinder, difference, moved, turnedX, union, type Solid } from '../demo/shapes/solid.ts';

/** Area of a regular n-gon whose corners lie on a circle of the given diameter. */
export function polygonArea(diameter: number, sides: number): number {
  return (sides / 8) * diameter * diameter * Math.sin((2 * Math.PI) / sides);
}

/** Plain parts whose every volume follows from a line of arithmetic. Lengths in millimeters. */

/** A plate with three unlike holes and one block-shaped boss of 4 × 6 × 3, whose place along x is given. */
export function bossPlate(bossAt: number): Solid {
  const hole = (diameter: number, x: number, y: number): Solid => moved(cylinder(diameter, 7, 32), x, y, -1);
  return union(
    difference(box(60, 40, 5), hole(4, -24, -14), hole(6, 22, -12), hole(3, 20, 13)),
    moved(box(4, 6, 4), bossAt, 4, 4),
  );
}

/** A bar with a large eye at the left end, which stays, and a small one at the right end, which goes with the length. */
export function linkBar(length: number): Solid {
  const right = length - 10;
  return difference(
    union(
      moved(box(length, 14, 6), length / 2 - 10, 0, 0),
      moved(cylinder(12, 9, 32), 0, 0, 0),
      moved(box(3, 14, 9), right - 1.5, 0, 0),
    ),
    moved(cylinder(6, 11, 32), 0, 0, -1),
    moved(cylinder(3.2, 11, 32), right - 7, 2, -1),
  );
}

/** A thin sheet with unlike holes; the middle one has the given diameter. */
export function sheet(middleHole: number): Solid {
  const hole = (diameter: number, x: number, y: number): Solid => moved(cylinder(diameter, 3, 40), x, y, -1);
  return difference(
    box(80, 50, 0.8),
    hole(5, -33, -18),
    hole(8, 30, 16),
    hole(3, 28, -19),
    hole(middleHole, -6, 3),
  );
}

/** An open cup: its inside never changes, its outside grows by `skin` on the four sides and below. */
export function cup(skin: number): Solid {
  const inside = union(
    moved(box(30, 20, 20), 0, 0, 2),
    moved(box(6, 20, 4), 8, 0, 0.8),
    moved(turnedX(moved(cylinder(5, 22, 24), 0, 0, -11), 90), -9, 0, 2.2),
  );
  return difference(moved(box(35 + 2 * skin, 25 + 2 * skin, 18 + skin), 0, 0, -2 - skin), inside);
}

/** Volume that a skin of the given thickness adds to the cup. */
export function cupSkinVolume(skin: number): number {
  return (35 + 2 * skin) * (25 + 2 * skin) * (18 + skin) - 35 * 25 * 18;
}

/** An L of two plates with holes; `gusset` adds a triangular rib in the corner, `cut` takes a window away. */
export function bracket(
  options: { readonly gusset?: boolean; readonly cut?: boolean; readonly segments?: number } = {},
): Solid {
  const segments = options.segments ?? 36;
  const foot = moved(softPlate(40, 24, 4, 3, 0.5, 4), 20, 0, 0);
  const wall = moved(box(4, 24, 30), 2, 0, 0);
  const hole = (diameter: number, x: number, y: number): Solid =>
    moved(cylinder(diameter, 6, segments), x, y, -1);
  const across = (diameter: number, y: number, z: number): Solid =>
    moved(
      { op: 'affine', part: cylinder(diameter, 8, segments), map: [0, 0, 1, 0, 0, 1, 0, 0, -1, 0, 0, 0] },
      -2,
      y,
      z,
    );
  const gusset: Solid = {
    op: 'affine',
    part: {
      op: 'extrusion',
      outline: [
        [3.5, 3.5],
        [18, 3.5],
        [3.5, 18],
      ],
      height: 3,
    },
    map: [1, 0, 0, 0, 0, 0, -1, 1.5, 0, 1, 0, 0],
  };
  return difference(
    union(foot, wall, ...(options.gusset === true ? [gusset] : [])),
    hole(4.2, 30, -6),
    hole(3.2, 32, 7),
    across(5, -5, 22),
    across(3.4, 7, 14),
    ...(options.cut === true ? [moved(box(8, 6, 10), 2, 3, 23)] : []),
  );
}
