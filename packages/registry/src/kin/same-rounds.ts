import { findFeatures, type Bore, type Mesh, type Pin, type Vec3 } from '@kinprint/mesh';

/**
 * Whether two meshes that lie on each other have the same bores and pins: each with a counterpart on its axis, of its
 * diameter through the corners within twice `within_mm`. Corners lie on the designed surface whatever the facets, so
 * this tells another chord tolerance from another bore.
 */
export function sameRounds(a: Mesh, b: Mesh, within_mm: number): boolean {
  const [ofA, ofB] = [roundsOf(a), roundsOf(b)];
  const counterpart = (one: Bore | Pin, others: readonly (Bore | Pin)[]): boolean =>
    others.some(
      other =>
        other.kind === one.kind &&
        Math.abs(other.diameter_mm - one.diameter_mm) <= 2 * within_mm &&
        offAxis(one.at_mm, other.at_mm, other.axis) <= 2 * within_mm,
    );
  return ofA.every(one => counterpart(one, ofB)) && ofB.every(one => counterpart(one, ofA));
}

function roundsOf(mesh: Mesh): (Bore | Pin)[] {
  return findFeatures(mesh).filter((feature): feature is Bore | Pin => feature.kind !== 'plane');
}

function offAxis(point: Vec3, on: Vec3, axis: Vec3): number {
  const d = [point[0] - on[0], point[1] - on[1], point[2] - on[2]];
  const along = d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2];
  return Math.hypot(d[0] - along * axis[0], d[1] - along * axis[1], d[2] - along * axis[2]);
}
