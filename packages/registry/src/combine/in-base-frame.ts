import { angleAxis } from '@kinprint/compare';
import type { Interface, Part, Placement, PrintSettings } from '@kinprint/manifest';
import {
  buildDirections,
  movedDirection,
  movedPoint,
  rigidMotion,
  type Affine,
  type Vec3,
} from '@kinprint/mesh';

/**
 * What a manifest says of a part, for a mesh in another frame, as a rule that of the base: places and axes of interfaces
 * and the way up are carried by the motion that lays its mesh over that of the other. What is then the same as the
 * other's but for rounding is the other's, so that an export elsewhere in space is no change.
 *
 * A way up that is along no axis of the other frame is left as the other has it.
 */
export function partInBaseFrame(part: Part, base: Part | undefined, toBase: Affine): Part {
  const { interfaces, print } = part;
  return {
    ...part,
    ...(interfaces === undefined
      ? {}
      : {
          interfaces: interfaces.map(item =>
            carriedInterface(
              item,
              base?.interfaces?.find(other => other.id === item.id),
              toBase,
            ),
          ),
        }),
    ...(print?.up === undefined ? {} : { print: carriedPrint(print, base?.print, toBase) }),
  };
}

/** What a manifest says of a part, with the places and axes of interfaces and the way up that another gives it. */
export function placedLike(part: Part, other: Part | undefined): Part {
  if (other === undefined) return part;
  const { print } = part;
  const interfaces = part.interfaces?.map(({ at_mm: _at, axis: _axis, ...rest }) => {
    const { at_mm, axis } = other.interfaces?.find(({ id }) => id === rest.id) ?? {};
    return { ...rest, ...(at_mm === undefined ? {} : { at_mm }), ...(axis === undefined ? {} : { axis }) };
  });
  const { up: _up, ...settings } = print ?? {};
  const up = other.print?.up;
  return {
    ...part,
    ...(interfaces === undefined ? {} : { interfaces }),
    ...(print === undefined ? {} : { print: { ...settings, ...(up === undefined ? {} : { up }) } }),
  };
}

/**
 * A placement of a remix's part, for its mesh in the frame of the base: the motion back, then the placement.
 *
 * @param base where the base places this copy of the part
 */
export function placementInBaseFrame(
  placement: Placement,
  base: Placement | undefined,
  toBase: Affine,
): Placement {
  const motion = multiplied(motionOf(placement), motionBack(toBase));
  if (base !== undefined && sameMotion(motion, motionOf(base))) return base;
  const [x, y, z] = motion;
  const { angle, axis } = angleAxis([x[0], x[1], x[2], y[0], y[1], y[2], z[0], z[1], z[2]]);
  return {
    part: placement.part,
    translate_mm: vector([x[3], y[3], z[3]]),
    ...(axis === null ? {} : { rotate: { axis: vector(axis), degrees: tidy((angle * 180) / Math.PI) } }),
  };
}

/** Places nearer than this, and directions that differ by less (as unit vectors), are the same. Common practice, no source. */
const samePlace_mm = 0.005;
const sameDirection = 1e-4;

function carriedInterface(item: Interface, base: Interface | undefined, toBase: Affine): Interface {
  const { at_mm, axis } = item;
  return {
    ...item,
    ...(at_mm === undefined
      ? {}
      : { at_mm: sameOr(movedPoint(toBase, at_mm), base?.at_mm, samePlace_mm, v => v) }),
    ...(axis === undefined
      ? {}
      : { axis: sameOr(movedDirection(toBase, axis), base?.axis, sameDirection, unit) }),
  };
}

function sameOr(moved: Vec3, base: Vec3 | undefined, within: number, of: (v: Vec3) => Vec3): Vec3 {
  return base !== undefined && apart(of(moved), of(base)) <= within ? base : vector(moved);
}

function carriedPrint(print: PrintSettings, base: PrintSettings | undefined, toBase: Affine): PrintSettings {
  const { up: own, ...rest } = print;
  const moved = movedDirection(toBase, buildDirections[own ?? 'z']);
  const names = Object.keys(buildDirections) as (keyof typeof buildDirections)[];
  const up = names.find(name => apart(buildDirections[name], moved) < 1e-3);
  const kept = up === undefined || up === (base?.up ?? 'z') ? base?.up : up;
  return { ...rest, ...(kept === undefined ? {} : { up: kept }) };
}

function motionOf({ rotate, translate_mm }: Placement): Affine {
  return rigidMotion(rotate ?? null, translate_mm ?? [0, 0, 0]);
}

function sameMotion(p: Affine, q: Affine): boolean {
  return [0, 1, 2].every(
    row =>
      [0, 1, 2].every(k => Math.abs(p[row][k] - q[row][k]) <= sameDirection) &&
      Math.abs(p[row][3] - q[row][3]) <= samePlace_mm,
  );
}

/** The motion back: its turn transposed. */
export function motionBack([x, y, z]: Affine): Affine {
  const back = (k: 0 | 1 | 2) => [x[k], y[k], z[k], -(x[k] * x[3] + y[k] * y[3] + z[k] * z[3])] as const;
  return [back(0), back(1), back(2), [0, 0, 0, 1]];
}

/** First `q`, then `p`. */
function multiplied(p: Affine, q: Affine): Affine {
  const row = (r: 0 | 1 | 2) => {
    const at = (k: 0 | 1 | 2 | 3) =>
      p[r][0] * q[0][k] + p[r][1] * q[1][k] + p[r][2] * q[2][k] + (k === 3 ? p[r][3] : 0);
    return [at(0), at(1), at(2), at(3)] as const;
  };
  return [row(0), row(1), row(2), [0, 0, 0, 1]];
}

function apart(p: Vec3, q: Vec3): number {
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

function unit(v: Vec3): Vec3 {
  const length = Math.hypot(...v) || 1;
  return [v[0] / length, v[1] / length, v[2] / length];
}

function vector([x, y, z]: Vec3): Vec3 {
  return [tidy(x), tidy(y), tidy(z)];
}

/** Without the noise of an alignment. */
function tidy(value: number): number {
  return Number(value.toFixed(6)) + 0;
}
