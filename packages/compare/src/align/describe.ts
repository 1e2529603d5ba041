import type { Vec3 } from '@kinprint/mesh';
import type { Alignment, AlignmentKind } from '../comparison.ts';
import {
  applyPlacement,
  determinant3,
  linearOf,
  matrixOf,
  multiply3,
  transpose3,
  type Placement,
} from './placement.ts';
import { angleAxis, nearestRotation, reflections } from './rotation.ts';

/** A placement taken apart: `L = rotation · diag(scale) · reflection`. */
export interface Parts {
  /** Nine numbers, rows first. */
  readonly rotation: readonly number[];
  readonly angle: number;
  readonly axis: Vec3 | null;
  readonly scale: Vec3;
  readonly mirrored: boolean;
  /** Index into `reflections`: across x, y, z, or through a point; null when not mirrored. */
  readonly reflection: number | null;
}

/**
 * Takes a placement apart. The scale factors are the lengths of the columns (BEFORE's axes stay at right angles).
 * A mirrored placement can be told in many ways: the reflection is chosen that leaves the smallest rotation, one
 * across a coordinate plane of BEFORE before the one through the center.
 */
export function placementParts(m: Placement): Parts {
  const l = linearOf(m);
  const lengths = [0, 1, 2].map(k => Math.hypot(l[k], l[3 + k], l[6 + k]));
  const mean = Math.cbrt(lengths[0] * lengths[1] * lengths[2]);
  const unscaled = lengths.every(s => Math.abs(s - 1) <= 1e-9);
  const uniform = lengths.every(s => Math.abs(s - mean) <= 1e-9 * mean);
  const scale: Vec3 = unscaled
    ? [1, 1, 1]
    : uniform
      ? [mean, mean, mean]
      : [lengths[0], lengths[1], lengths[2]];
  const turned = l.map((v, i) => v / scale[i % 3]);
  if (determinant3(l) > 0) {
    const rotation = nearestRotation(turned);
    return { rotation, ...angleAxis(rotation), scale, mirrored: false, reflection: null };
  }
  let best: Parts | null = null;
  reflections.forEach((f, k) => {
    const rotation = nearestRotation(multiply3(turned, f));
    const found = angleAxis(rotation);
    if (best === null || found.angle < best.angle - 1e-6)
      best = { rotation, ...found, scale, mirrored: true, reflection: k };
  });
  return best ?? { rotation: transpose3(turned), angle: 0, axis: null, scale, mirrored: true, reflection: 0 };
}

/** The alignment as the result states it. */
export function describePlacement(
  m: Placement,
  kind: AlignmentKind,
  center: Vec3,
  matched: number,
): Alignment {
  const parts = placementParts(m);
  const moved = applyPlacement(m, center);
  return {
    kind,
    matrix: matrixOf(m),
    translation_mm: [moved[0] - center[0], moved[1] - center[1], moved[2] - center[2]],
    rotation_deg: (parts.angle * 180) / Math.PI,
    rotation_axis: parts.axis,
    scale: parts.scale,
    mirrored: parts.mirrored,
    matched,
  };
}

/** The kind by the parts; a motion that moves nothing is the identity. */
export function kindOf(m: Placement): AlignmentKind {
  const { scale, mirrored } = placementParts(m);
  const [x, y, z] = scale;
  if (Math.abs(x - y) > 1e-9 * x || Math.abs(x - z) > 1e-9 * x) return 'axis-scale';
  if (Math.abs(x - 1) > 1e-9) return 'uniform-scale';
  if (mirrored) return 'mirrored';
  const still = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];
  return m.every((v, k) => v === still[k]) ? 'identity' : 'rigid';
}
