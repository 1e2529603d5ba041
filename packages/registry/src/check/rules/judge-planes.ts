import type { Interface } from '@kinprint/manifest';
import type { Plane, Vec3 } from '@kinprint/mesh';
import { checkDefaults } from '../defaults.ts';
import type { Measured, Verdict } from './verdict.ts';
import { within } from './judge-rounds.ts';
import { across, dot, minus, unit } from './vector.ts';

const { interfaces: limits } = checkDefaults;
const parallel = Math.cos((limits.angle_deg * Math.PI) / 180);

interface Gap {
  readonly width_mm: number;
  readonly at_mm: Vec3;
  /** How far beside the declared place it lies, 0 within it. */
  readonly off_mm: number | null;
}

/**
 * A slot is a pair of parallel planes that face each other across a gap. Nothing tells how far they reach, and grains of
 * a curved face are no planes, so a slot that is not found cannot be judged.
 */
export function judgeSlot(face: Interface, planes: readonly Plane[], largest: number): Verdict {
  if (face.nominal_mm === undefined)
    return { state: 'unchecked', why: 'The slot states no width (nominal_mm).' };
  const nominal = face.nominal_mm;
  const gaps = gapsBetween(planes, face.at_mm);
  const near = face.at_mm === undefined ? gaps : gaps.filter(gap => (gap.off_mm ?? 0) <= limits.offAxis_mm);
  const fitting = near.find(gap => within(face, gap.width_mm, largest));
  if (fitting !== undefined) return { state: 'fits', measured: gapMeasured(fitting) };
  const [nearest] = near
    .filter(gap => ratio(gap.width_mm, nominal) <= limits.sizeFactor)
    .sort((a, b) => Math.abs(a.width_mm - nominal) - Math.abs(b.width_mm - nominal));
  // Without a place two other planes may just happen to be about so far apart.
  if (nearest === undefined || face.at_mm === undefined)
    return {
      state: 'unchecked',
      why:
        face.at_mm === undefined
          ? 'No two planes of the mesh face each other at this width; a point in the slot (at_mm) would tell more.'
          : 'No two planes of the mesh face each other there.',
    };
  return { state: 'differs', measured: gapMeasured(nearest) };
}

function gapMeasured({ width_mm, at_mm, off_mm }: Gap): Measured {
  return { size_mm: width_mm, other_mm: null, at_mm, off_mm };
}

/** A face is a plane through the declared point with the declared normal. */
export function judgeFace(face: Interface, planes: readonly Plane[], largest: number): Verdict {
  const normal = face.axis === undefined ? null : unit(face.axis);
  const { at_mm: at } = face;
  if (at === undefined || normal === null)
    return { state: 'unchecked', why: 'A face needs a point (at_mm) and a normal (axis) to be found by.' };
  const facing = planes.filter(plane => dot(plane.axis, normal) >= parallel && reaches(plane, at));
  const offs = facing
    .map(plane => ({ plane, off: Math.abs(dot(minus(at, plane.at_mm), plane.axis)) }))
    .sort((a, b) => a.off - b.off);
  const slack = limits.rounding * largest;
  const [nearest] = offs;
  if (nearest === undefined || nearest.off > limits.faceReach_mm)
    return { state: 'unchecked', why: 'No plane of the mesh lies there with this normal.' };
  const { plus, minus: below } = face.tolerance_mm ?? {
    plus: limits.tolerance_mm,
    minus: limits.tolerance_mm,
  };
  return {
    state: nearest.off <= Math.max(plus, below) + slack ? 'fits' : 'differs',
    measured: { size_mm: nearest.off, other_mm: null, at_mm: nearest.plane.at_mm, off_mm: nearest.off },
  };
}

function gapsBetween(planes: readonly Plane[], at: Vec3 | undefined): Gap[] {
  const gaps: Gap[] = [];
  planes.forEach((a, i) => {
    for (const b of planes.slice(i + 1)) {
      if (dot(a.axis, b.axis) > -parallel) continue;
      const between = minus(b.at_mm, a.at_mm);
      const width = dot(between, a.axis);
      // Outward normals that point at each other have air between them, others the material of a wall.
      if (width <= 0 || across(between, a.axis) > (Math.sqrt(a.area_mm2) + Math.sqrt(b.area_mm2)) / 2)
        continue;
      const middle: Vec3 = [
        (a.at_mm[0] + b.at_mm[0]) / 2,
        (a.at_mm[1] + b.at_mm[1]) / 2,
        (a.at_mm[2] + b.at_mm[2]) / 2,
      ];
      gaps.push({
        width_mm: width,
        at_mm: middle,
        off_mm: at === undefined ? null : offGap(a, b, width, at),
      });
    }
  });
  return gaps;
}

function offGap(a: Plane, b: Plane, width: number, at: Vec3): number {
  const depth = dot(minus(at, a.at_mm), a.axis);
  const outside = Math.max(-depth, depth - width, 0);
  return reaches(a, at) || reaches(b, at) ? outside : Infinity;
}

/** Whether a plane may reach to where a point lies over it: its area is known, not its outline. */
function reaches(plane: Plane, at: Vec3): boolean {
  return across(minus(at, plane.at_mm), plane.axis) <= 2 * Math.sqrt(plane.area_mm2);
}

function ratio(a: number, b: number): number {
  return Math.max(a / b, b / a);
}
