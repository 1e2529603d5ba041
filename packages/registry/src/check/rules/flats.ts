import type { Interface } from '@kinprint/manifest';
import type { Plane, Vec3 } from '@kinprint/mesh';
import { checkDefaults } from '../defaults.ts';
import { within } from './within.ts';
import { across, dot, minus, unit } from './vector.ts';

const { interfaces: limits } = checkDefaults;
const parallel = Math.cos((limits.angle_deg * Math.PI) / 180);

/** What a declared slot, tongue or face means in a mesh: two parallel planes, or one. */
export interface Flat {
  /** Half way between the two; of a face the middle of its plane. */
  readonly at_mm: Vec3;
  /** Of length 1; of a face outward. */
  readonly normal: Vec3;
  /** Between the two; of a face 0. */
  readonly width_mm: number;
  /** From the declared place, 0 within a slot or a tongue; null where none is declared. */
  readonly off_mm: number | null;
  /** How far its planes may reach from their middle: their areas are known, not their outlines. */
  readonly reach_mm: number;
}

/**
 * The pair of planes that a slot or a tongue means: of those around its place the nearest in size. A pair of another size
 * than declared is meant only where a place is declared, as two other planes may just happen to be about so far apart.
 *
 * @param largest the largest coordinate of the mesh, for rounding
 */
export function meantPair(
  face: Interface,
  planes: readonly Plane[],
  largest: number,
): { readonly flat: Flat; readonly fits: boolean } | null {
  const { nominal_mm: nominal, at_mm: at } = face;
  if (nominal === undefined) return null;
  const [nearest] = pairsOf(face, planes)
    .filter(({ off_mm }) => (off_mm ?? 0) <= limits.offAxis_mm)
    .sort((a, b) => Math.abs(a.width_mm - nominal) - Math.abs(b.width_mm - nominal));
  if (nearest === undefined) return null;
  if (within(face, nearest.width_mm, largest)) return { flat: nearest, fits: true };
  return at === undefined || ratio(nearest.width_mm, nominal) > limits.sizeFactor
    ? null
    : { flat: nearest, fits: false };
}

/** The plane that a face means: through its place, with its normal; null without both, or where none is near. */
export function meantPlane(face: Interface, planes: readonly Plane[]): Flat | null {
  const normal = face.axis === undefined ? null : unit(face.axis);
  const { at_mm: at } = face;
  if (at === undefined || normal === null) return null;
  const [nearest] = planes
    .filter(plane => dot(plane.axis, normal) >= parallel && reaches(plane, at))
    .map((plane): Flat => {
      const off = Math.abs(dot(minus(at, plane.at_mm), plane.axis));
      return {
        at_mm: plane.at_mm,
        normal: plane.axis,
        width_mm: 0,
        off_mm: off,
        reach_mm: reachOf(plane),
      };
    })
    .sort((a, b) => (a.off_mm ?? 0) - (b.off_mm ?? 0));
  return nearest === undefined || (nearest.off_mm ?? 0) > limits.faceReach_mm ? null : nearest;
}

/** Pairs of parallel planes with air between them (a slot), or material (a tongue). */
function pairsOf({ kind, at_mm: at }: Interface, planes: readonly Plane[]): Flat[] {
  const side = kind === 'tongue' ? -1 : 1;
  const pairs: Flat[] = [];
  planes.forEach((a, i) => {
    for (const b of planes.slice(i + 1)) {
      if (dot(a.axis, b.axis) > -parallel) continue;
      const between = minus(b.at_mm, a.at_mm);
      // Outward normals that point at each other have air between them, others the material of a wall.
      const width = side * dot(between, a.axis);
      if (width <= 0 || across(between, a.axis) > (Math.sqrt(a.area_mm2) + Math.sqrt(b.area_mm2)) / 2)
        continue;
      const middle: Vec3 = [
        (a.at_mm[0] + b.at_mm[0]) / 2,
        (a.at_mm[1] + b.at_mm[1]) / 2,
        (a.at_mm[2] + b.at_mm[2]) / 2,
      ];
      pairs.push({
        at_mm: middle,
        normal: a.axis,
        width_mm: width,
        off_mm: at === undefined ? null : offPair(a, b, side, width, at),
        reach_mm: Math.min(reachOf(a), reachOf(b)),
      });
    }
  });
  return pairs;
}

function offPair(a: Plane, b: Plane, side: number, width: number, at: Vec3): number {
  const depth = side * dot(minus(at, a.at_mm), a.axis);
  const outside = Math.max(-depth, depth - width, 0);
  return reaches(a, at) || reaches(b, at) ? outside : Infinity;
}

/** Whether a plane may reach to where a point lies over it. */
function reaches(plane: Plane, at: Vec3): boolean {
  return across(minus(at, plane.at_mm), plane.axis) <= reachOf(plane);
}

function reachOf({ area_mm2 }: Plane): number {
  return 2 * Math.sqrt(area_mm2);
}

function ratio(a: number, b: number): number {
  return Math.max(a / b, b / a);
}
