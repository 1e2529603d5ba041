import { findFeatures, type Bore, type Feature, type Mesh, type Pin, type Vec3 } from '@kinprint/mesh';

/**
 * Whether no bore, pin or plane of one mesh is another size or elsewhere in the other; the meshes lie on each other
 * within `chords_mm` already. Planes, and the corners of round faces, lie on the designed surface whatever the
 * facets, so this tells another chord tolerance from a change. A feature that only one of the meshes shows is no
 * objection: which short or blended ones are found does depend on the facets.
 */
export function sameFeatures(a: Mesh, b: Mesh, within_mm: number, chords_mm: number): boolean {
  const [ofA, ofB] = [findFeatures(a), findFeatures(b)];
  const agrees = (one: Feature, others: readonly Feature[]): boolean =>
    one.kind === 'plane'
      ? planeAgrees(one, others, within_mm, chords_mm)
      : roundAgrees(one, others, within_mm);
  return ofA.every(one => agrees(one, ofB)) && ofB.every(one => agrees(one, ofA));
}

function roundAgrees(one: Bore | Pin, others: readonly Feature[], within_mm: number): boolean {
  const here = others.filter(
    (other): other is Bore | Pin =>
      other.kind === one.kind && offAxis(one.at_mm, other.at_mm, other.axis) <= 2 * within_mm,
  );
  return (
    here.length === 0 || here.some(other => Math.abs(other.diameter_mm - one.diameter_mm) <= 2 * within_mm)
  );
}

/** A parallel plane that lies nearly where this one does is this one, and must lie there. */
function planeAgrees(
  one: Feature,
  others: readonly Feature[],
  within_mm: number,
  chords_mm: number,
): boolean {
  const offsets = others
    .filter(other => other.kind === 'plane' && dot(other.axis, one.axis) > 1 - 1e-6)
    .map(other => Math.abs(dot(other.axis, other.at_mm) - dot(other.axis, one.at_mm)));
  const nearest = Math.min(...offsets);
  return nearest <= within_mm || nearest > chords_mm;
}

function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function offAxis(point: Vec3, on: Vec3, axis: Vec3): number {
  const d = [point[0] - on[0], point[1] - on[1], point[2] - on[2]];
  const along = d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2];
  return Math.hypot(d[0] - along * axis[0], d[1] - along * axis[1], d[2] - along * axis[2]);
}
