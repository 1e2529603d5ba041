import type { Vec3 } from '../types.ts';
import type { Affine } from './transform-mesh.ts';

/** A turn about an axis through the origin, right-handed; the axis need not be of length 1. */
export interface Turn {
  readonly axis: Vec3;
  readonly degrees: number;
}

/**
 * The motion that first turns, then shifts. Rodrigues' rotation formula; quarter turns are exact, so that faces that
 * should touch do. An axis without a direction turns nothing.
 */
export function rigidMotion(turn: Turn | null, [tx, ty, tz]: Vec3): Affine {
  const length = turn === null ? 0 : Math.hypot(...turn.axis);
  const [x, y, z] = turn === null || length === 0 ? [0, 0, 1] : turn.axis.map(v => v / length);
  const [c, s] = turn === null || length === 0 ? [1, 0] : cosineAndSine(turn.degrees);
  const t = 1 - c;
  return [
    [t * x * x + c, t * x * y - s * z, t * x * z + s * y, tx],
    [t * x * y + s * z, t * y * y + c, t * y * z - s * x, ty],
    [t * x * z - s * y, t * y * z + s * x, t * z * z + c, tz],
    [0, 0, 0, 1],
  ];
}

function cosineAndSine(degrees: number): readonly [number, number] {
  switch (((degrees % 360) + 360) % 360) {
    case 0:
      return [1, 0];
    case 90:
      return [0, 1];
    case 180:
      return [-1, 0];
    case 270:
      return [0, -1];
    default:
      return [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  }
}

/** Where an affine map takes a point. */
export function movedPoint([a, b, c]: Affine, [x, y, z]: Vec3): Vec3 {
  return [
    a[0] * x + a[1] * y + a[2] * z + a[3],
    b[0] * x + b[1] * y + b[2] * z + b[3],
    c[0] * x + c[1] * y + c[2] * z + c[3],
  ];
}

/** Where an affine map takes a direction: without its shift. */
export function movedDirection([a, b, c]: Affine, [x, y, z]: Vec3): Vec3 {
  return [a[0] * x + a[1] * y + a[2] * z, b[0] * x + b[1] * y + b[2] * z, c[0] * x + c[1] * y + c[2] * z];
}
