import type { Interface } from '@kinprint/manifest';
import type { Plane } from '@kinprint/mesh';
import { checkDefaults } from '../defaults.ts';
import { meantPair, meantPlane, type Flat } from './flats.ts';
import type { Measured, Verdict } from './verdict.ts';
import { unit } from './vector.ts';
import { bears } from './within.ts';

const { interfaces: limits } = checkDefaults;

/**
 * A slot is a pair of parallel planes that face each other across a gap, a tongue one with material between. Nothing tells
 * how far they reach, and grains of a curved face are no planes, so one that is not found cannot be judged.
 */
export function judgePair(face: Interface, planes: readonly Plane[], largest: number): Verdict {
  if (face.nominal_mm === undefined)
    return { state: 'unchecked', why: `The ${face.kind} states no width (nominal_mm).` };
  const found = meantPair(face, planes, largest);
  if (found !== null) return { state: found.fits ? 'fits' : 'differs', measured: pairMeasured(found.flat) };
  const other =
    face.kind === 'tongue'
      ? 'No two planes of the mesh have material between them'
      : 'No two planes of the mesh face each other';
  return {
    state: 'unchecked',
    why:
      face.at_mm === undefined
        ? `${other} at this width; a point in the ${face.kind} (at_mm) would tell more.`
        : `${other} there.`,
  };
}

function pairMeasured({ width_mm, at_mm, off_mm }: Flat): Measured {
  return { size_mm: width_mm, other_mm: null, at_mm, off_mm };
}

/** A face is a plane through the declared point with the declared normal. */
export function judgeFace(face: Interface, planes: readonly Plane[], largest: number): Verdict {
  if (face.at_mm === undefined || face.axis === undefined || unit(face.axis) === null)
    return { state: 'unchecked', why: 'A face needs a point (at_mm) and a normal (axis) to be found by.' };
  const found = meantPlane(face, planes);
  if (found === null) return { state: 'unchecked', why: 'No plane of the mesh lies there with this normal.' };
  const off = found.off_mm ?? 0;
  return {
    state: off <= bears(face) + limits.rounding * largest ? 'fits' : 'differs',
    measured: { size_mm: off, other_mm: null, at_mm: found.at_mm, off_mm: off },
  };
}
