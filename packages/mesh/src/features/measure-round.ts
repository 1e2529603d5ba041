import type { Bore, Pin } from '../measurement.ts';
import type { Mesh, Vec3 } from '../types.ts';
import type { FaceNormals } from '../face-normals.ts';
import { canonicalAxis } from './frame.ts';
import type { ProfiledRound } from './join-pieces.ts';
import type { LineQuery } from './line-query.ts';
import { isThrough } from './round-ends.ts';

/** The bore or pin that a round region is. */
export function measureRound(
  mesh: Mesh,
  neighbors: Int32Array,
  faces: FaceNormals,
  round: ProfiledRound,
  lines: LineQuery,
): Bore | Pin {
  const { region, profile } = round;
  const { axis, point, radius } = region.cylinder;
  const middle = (profile.low + profile.high) / 2;
  const at_mm: Vec3 = [
    point[0] + middle * axis[0] + 0,
    point[1] + middle * axis[1] + 0,
    point[2] + middle * axis[2] + 0,
  ];
  const shared = {
    diameter_mm: 2 * radius,
    inscribed_diameter_mm: 2 * profile.inscribed,
    axis: canonicalAxis(axis),
    at_mm,
    length_mm: profile.high - profile.low,
    turn: profile.turn,
    sides: sidesOf(region.spans),
    residual_mm: region.max,
  };
  if (region.sense === 1) return { kind: 'pin', ...shared, through: null };
  return { kind: 'bore', ...shared, through: isThrough(mesh, neighbors, faces, round, lines) };
}

/** Sides of the full polygon when all flats span the same angle within 5 %, else null. */
function sidesOf(spans: readonly number[]): number | null {
  if (spans.length === 0) return null;
  const sorted = spans.slice().sort((a, b) => a - b);
  const median = sorted[sorted.length >> 1];
  if (!(median > 0)) return null;
  const alike = sorted[0] >= 0.95 * median && sorted[sorted.length - 1] <= 1.05 * median;
  return alike ? Math.round((2 * Math.PI) / median) : null;
}
