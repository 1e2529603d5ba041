import { type Feature, meshDefaults, type Plane, type Vec3 } from '@kinprint/mesh';
import type { Comparison, FeatureChange } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';

type Round = Exclude<Feature, Plane>;
type Changes = Comparison['features'];

/**
 * What became of the features: BEFORE's, carried into the frame of AFTER, are matched to AFTER's nearest of their
 * kind, closest pairs first; what stays unmatched appeared or is gone.
 *
 * Both lists hold the largest planes only, and one plane may be found in pieces. So a plane counts as new, gone or
 * moved only where the other side has none in the same place and its list reaches down to planes of that size.
 *
 * @param carried BEFORE's features in the frame of AFTER
 * @param tolerance_mm differences within it are no change
 * @param diagonal_mm of AFTER's bounds: how far a feature may wander and still be the same one
 */
export function featureChanges(
  carried: readonly Feature[],
  after: readonly Feature[],
  tolerance_mm: number,
  diagonal_mm: number,
  area_mm2: number,
): Changes {
  const rounds = matchAll(carried.filter(isRound), after.filter(isRound), (a, b) =>
    roundCost(a, b, diagonal_mm),
  );
  const planes = matchAll(carried.filter(isPlane), after.filter(isPlane), (a, b) =>
    planeCost(a, b, diagonal_mm),
  );
  const changed: FeatureChange[] = [];
  const worth = (p: Plane): boolean => p.area_mm2 >= compareDefaults.planeShareListed * area_mm2;
  for (const [a, b] of rounds.pairs) {
    const what = roundDifferences(a, b, tolerance_mm);
    if (what.length > 0) changed.push({ before: a, after: b, what });
  }
  const flat = { before: carried.filter(isPlane), after: after.filter(isPlane) };
  const stands = (p: Plane, others: readonly Plane[]): boolean =>
    others.some(q => dot(p.axis, q.axis) > cosAngle && Math.abs(planeShift(q, p)) <= noise(tolerance_mm));
  const listed = (p: Plane, others: readonly Plane[]): boolean =>
    others.length < meshDefaults.features.planes ||
    p.area_mm2 > 1.1 * Math.min(...others.map(q => q.area_mm2));
  const real = (p: Plane, others: readonly Plane[]): boolean =>
    worth(p) && listed(p, others) && !stands(p, others);
  for (const [a, b] of planes.pairs) {
    if (real(b, flat.before) && !stands(a, flat.after) && Math.abs(planeShift(a, b)) > noise(tolerance_mm))
      changed.push({ before: a, after: b, what: ['place'] });
  }
  return {
    changed,
    added: [...rounds.newcomers, ...planes.newcomers.filter(p => real(p, flat.before))],
    removed: [...rounds.gone, ...planes.gone.filter(p => real(p, flat.after))],
  };
}

function isRound(f: Feature): f is Round {
  return f.kind !== 'plane';
}
function isPlane(f: Feature): f is Plane {
  return f.kind === 'plane';
}

interface Matching<T> {
  readonly pairs: readonly (readonly [T, T])[];
  readonly gone: readonly T[];
  readonly newcomers: readonly T[];
}

/** Greedy matching, cheapest pairs first; an infinite cost forbids a pair. */
function matchAll<T>(before: readonly T[], after: readonly T[], cost: (a: T, b: T) => number): Matching<T> {
  const offers: { i: number; j: number; cost: number }[] = [];
  before.forEach((a, i) => {
    after.forEach((b, j) => {
      const c = cost(a, b);
      if (Number.isFinite(c)) offers.push({ i, j, cost: c });
    });
  });
  offers.sort((p, q) => p.cost - q.cost || p.i - q.i || p.j - q.j);
  const usedBefore = new Set<number>();
  const usedAfter = new Set<number>();
  const pairs: [T, T][] = [];
  for (const { i, j } of offers) {
    if (usedBefore.has(i) || usedAfter.has(j)) continue;
    usedBefore.add(i);
    usedAfter.add(j);
    pairs.push([before[i], after[j]]);
  }
  return {
    pairs,
    gone: before.filter((_, i) => !usedBefore.has(i)),
    newcomers: after.filter((_, j) => !usedAfter.has(j)),
  };
}

const cosAngle = Math.cos((compareDefaults.featureAngle_deg * Math.PI) / 180);

/** Millimeters that two round features are apart, counting place, diameter and length; Infinity for another kind. */
function roundCost(a: Round, b: Round, diagonal: number): number {
  if (a.kind !== b.kind) return Infinity;
  if (Math.abs(dot(a.axis, b.axis)) < Math.cos(Math.PI / 12)) return Infinity;
  const offset = sub(b.at_mm, a.at_mm);
  const along = dot(offset, b.axis);
  const across = Math.sqrt(Math.max(0, dot(offset, offset) - along * along));
  const reach = compareDefaults.featureReachOfDiagonal * diagonal;
  const larger = Math.max(a.diameter_mm, b.diameter_mm);
  const diameters = Math.abs(a.diameter_mm - b.diameter_mm);
  const sameSize = diameters < 0.02 * larger;
  if (diameters > 0.5 * larger) return Infinity;
  // A bore of another size is the same bore only where it stands on the old one's place.
  if (!sameSize && across > 0.5 * larger) return Infinity;
  if (across > reach || Math.abs(along) > reach + 0.5 * Math.abs(a.length_mm - b.length_mm)) return Infinity;
  return across + 0.5 * Math.abs(along) + diameters + 0.1 * Math.abs(a.length_mm - b.length_mm);
}

function roundDifferences(a: Round, b: Round, tolerance: number): string[] {
  const slack = noise(tolerance) + a.residual_mm + b.residual_mm;
  const what: string[] = [];
  if (Math.abs(a.diameter_mm - b.diameter_mm) > 2 * slack) what.push('diameter');
  if (Math.abs(a.length_mm - b.length_mm) > 4 * slack) what.push('length');
  const offset = sub(b.at_mm, a.at_mm);
  const along = dot(offset, b.axis);
  const across = Math.sqrt(Math.max(0, dot(offset, offset) - along * along));
  // A bore that only grew longer at one end has another middle, but has not moved.
  const alongSlack = what.includes('length') ? 0.5 * Math.abs(a.length_mm - b.length_mm) + slack : slack;
  if (across > 2 * slack || Math.abs(along) > 2 * alongSlack) what.push('place');
  if (Math.abs(dot(a.axis, b.axis)) < cosAngle) what.push('axis');
  if (a.through !== b.through && a.through !== null && b.through !== null) what.push('through');
  return what;
}

function planeCost(a: Plane, b: Plane, diagonal: number): number {
  if (dot(a.axis, b.axis) < cosAngle) return Infinity;
  const offset = sub(b.at_mm, a.at_mm);
  const shift = dot(offset, b.axis);
  const lateral = Math.sqrt(Math.max(0, dot(offset, offset) - shift * shift));
  const ratio = Math.min(a.area_mm2, b.area_mm2) / Math.max(a.area_mm2, b.area_mm2);
  if (ratio < 0.25 || Math.hypot(shift, lateral) > 2 * compareDefaults.featureReachOfDiagonal * diagonal)
    return Infinity;
  // Coplanar is the strongest sign that two faces are one; then nearness, then likeness of area.
  return 4 * Math.abs(shift) + lateral + (1 - ratio) * 0.05 * diagonal;
}

function planeShift(a: Plane, b: Plane): number {
  return dot(sub(b.at_mm, a.at_mm), b.axis);
}

/** Twice the tolerance, and at least 2 µm: features are averages over rounded vertices. */
function noise(tolerance: number): number {
  return Math.max(2 * tolerance, 2e-3 * Math.min(1, tolerance / compareDefaults.sameTolerance_mm));
}

function sub(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
