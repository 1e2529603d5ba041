import { type Feature, type Mesh, type Plane, type TriangleTree } from '@kinprint/mesh';
import type { MaterialRegion } from '@kinprint/solid';
import type { Region } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';
import { farthest } from './farthest.ts';

/**
 * A piece of changed material told as a maintainer would: how deep it goes and which feature it belongs to.
 *
 * Depth is the largest distance of the piece's surface from the surface it was added to or taken from, found to
 * `depthError`. Where there are many pieces, each gets its share of the work: its depth may then be that of its
 * deepest corner or middle of a facet, which is reached but may not be the largest.
 *
 * @param other tree of the surface of the other shape: BEFORE's for added material, AFTER's for removed
 * @param pieces how many pieces there are in all
 */
export function describePiece(
  piece: MaterialRegion,
  other: TriangleTree,
  features: { readonly before: readonly Feature[]; readonly after: readonly Feature[] },
  pieces = 1,
): Region {
  const { depthPieces, depthPiecesInAll } = compareDefaults;
  const { kind, volume_mm3, bounds_mm, centroid_mm, mesh } = piece;
  return {
    kind,
    volume_mm3,
    bounds_mm,
    centroid_mm,
    depth_mm: farthest(mesh, other, Math.min(depthPieces, depthPiecesInAll / pieces)),
    nearest_feature: nearestFeature(mesh, features),
  };
}

/** A bore or pin the piece touches or nearly touches comes first; else the nearest of all features. */
function nearestFeature(
  mesh: Mesh,
  features: { readonly before: readonly Feature[]; readonly after: readonly Feature[] },
): Region['nearest_feature'] {
  let best: Region['nearest_feature'] = null;
  let bestRank = Infinity;
  for (const of of ['after', 'before'] as const) {
    for (const feature of features[of]) {
      const distance_mm =
        feature.kind === 'plane' ? planeDistance(mesh, feature) : roundDistance(mesh, feature);
      // Any round feature within reach goes before any plane: a piece in a bore touches the face it opens in, too.
      const near = feature.kind !== 'plane' && distance_mm < 0.25 * feature.diameter_mm;
      const rank = near ? distance_mm - 1e6 : distance_mm;
      if (rank < bestRank) {
        bestRank = rank;
        best = { feature, of, distance_mm };
      }
    }
  }
  return best;
}

/** Smallest distance of the piece's corners from the wall of a bore or pin. */
function roundDistance(mesh: Mesh, round: Exclude<Feature, Plane>): number {
  const { axis, at_mm, diameter_mm, length_mm } = round;
  const p = mesh.positions;
  let best = Infinity;
  for (let k = 0; k < p.length; k += 3) {
    const x = p[k] - at_mm[0];
    const y = p[k + 1] - at_mm[1];
    const z = p[k + 2] - at_mm[2];
    const along = x * axis[0] + y * axis[1] + z * axis[2];
    const across = Math.sqrt(Math.max(0, x * x + y * y + z * z - along * along));
    const beyond = Math.max(0, Math.abs(along) - length_mm / 2);
    best = Math.min(best, Math.hypot(across - diameter_mm / 2, beyond));
  }
  return best;
}

/** Smallest distance of the piece's corners from a plane, counted as a disk of the plane's area. */
function planeDistance(mesh: Mesh, plane: Plane): number {
  const radius = Math.sqrt(plane.area_mm2 / Math.PI);
  const p = mesh.positions;
  let best = Infinity;
  for (let k = 0; k < p.length; k += 3) {
    const x = p[k] - plane.at_mm[0];
    const y = p[k + 1] - plane.at_mm[1];
    const z = p[k + 2] - plane.at_mm[2];
    const off = x * plane.axis[0] + y * plane.axis[1] + z * plane.axis[2];
    const lateral = Math.sqrt(Math.max(0, x * x + y * y + z * z - off * off));
    best = Math.min(best, Math.hypot(off, Math.max(0, lateral - radius)));
  }
  return best;
}
