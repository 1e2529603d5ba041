import type { Bore, Feature, Pin } from '../measurement.ts';
import type { Mesh } from '../types.ts';
import { meshDefaults } from '../defaults.ts';
import { faceAdjacency } from '../topology/face-adjacency.ts';
import { isBand, isBlend } from './belongs-to-more.ts';
import { faceNormals } from '../face-normals.ts';
import { facetedRounds } from './faceted-rounds.ts';
import { joinPieces } from './join-pieces.ts';
import { lineQuery } from './line-query.ts';
import { measureRound } from './measure-round.ts';
import { planarPatches } from './planar-patches.ts';
import { planesOf } from './planes.ts';
import { smoothRounds } from './smooth-rounds.ts';
import { coordinateNoise } from '../coordinate-noise.ts';

export interface FeatureOptions {
  /** How many planes are listed at most, largest first. */
  readonly planes: number;
  /** Least share of the whole area that a listed plane has, 0…1. */
  readonly planeShare: number;
  /** Least share of the full turn of a listed bore or pin, 0…1. */
  readonly minTurn: number;
}

/**
 * Bores, pins and planes of a mesh: bores by falling diameter, then pins, then planes by falling area.
 *
 * Planes are connected faces that lie in one plane. Bores (normals towards the axis) and pins (away from it) are
 * recovered twice: as flat strips side by side whose shared edges lie on one circle (exact data, 6 sides or more for
 * a full turn, 4 flats or more for a part of it), and as smooth surfaces near a cylinder (scans, remeshed parts).
 * `diameter_mm` is the circle through the vertices (least squares, orthogonal distances; NIST Algorithm Testing
 * System, doi 10.6028/jres.103.043), `inscribed_diameter_mm` twice the least distance of a facet from the axis.
 *
 * What is a feature of its own: at least `minTurn` of a turn; below `fullTurn` only where the surface ends in edges
 * (half a bore in a split clamp), not where it runs on smoothly (fillets, ends of slots). Pieces parted by a slot or
 * a cross hole are one bore; the same line through two lugs is two. A short cone at the end of a bore, a
 * countersink, a ball and a bent tube are not cylinders. A hexagonal nut trap and a bore of six sides have the same
 * shape: `sides` is 6 for both.
 *
 * `length_mm` is the mean over the directions around the axis, so a slanted end counts at its middle.
 *
 * @param mesh welded; any orientation faults only lose features
 * @param neighbors from `faceAdjacency`, when known already
 * @returns no features for an empty mesh; never NaN
 */
export function findFeatures(
  mesh: Mesh,
  neighbors: Int32Array = faceAdjacency(mesh),
  options: Partial<FeatureOptions> = {},
): Feature[] {
  const { features: defaults } = meshDefaults;
  const { planes, planeShare, minTurn } = { ...defaults, ...options };
  const { distance, diagonal } = coordinateNoise(mesh);
  if (!(diagonal > 0)) return [];
  const faces = faceNormals(mesh);
  const patches = planarPatches(mesh, neighbors, faces, { distance, angle: defaults.planeAngle_rad });
  const maxSpan = (defaults.maxSpan_deg * Math.PI) / 180;
  const faceted = facetedRounds(mesh, neighbors, patches, { distance, maxSpan, maxRadius: diagonal });

  const free = new Uint8Array(faces.areas.length);
  for (let f = 0; f < free.length; f++) free[f] = faces.areas[f] > 0 ? 1 : 0;
  for (const region of faceted) for (const f of region.faces) free[f] = 0;
  for (let i = 0; i < patches.count; i++) {
    const [from, to] = [patches.starts[i], patches.starts[i + 1]];
    if (to - from < 12 || patches.areas[i] < 0.002 * faces.total) continue;
    for (let k = from; k < to; k++) free[patches.faces[k]] = 0;
  }
  const smooth = smoothRounds(mesh, neighbors, faces, free, {
    distance,
    maxRadius: diagonal,
    maxNoise: defaults.maxNoiseOfRadius,
  });

  const lines = lineQuery(mesh);
  const taken = new Uint8Array(faces.areas.length);
  const rounds: (Bore | Pin)[] = [];
  const pieces = [...faceted, ...smooth].filter(region => !isBand(mesh, neighbors, faces, region));
  for (const round of joinPieces(mesh, pieces, distance)) {
    const { turn } = round.profile;
    if (turn < minTurn || (turn < defaults.fullTurn && isBlend(mesh, neighbors, faces, round))) continue;
    for (const f of round.region.faces) taken[f] = 1;
    rounds.push(measureRound(mesh, neighbors, faces, round, lines));
  }
  const grain = 1e-4 * diagonal;
  rounds.sort((a, b) => order(a, b, grain));
  return [...rounds, ...planesOf(mesh, faces, patches, taken, planeShare * faces.total, planes)];
}

/** Bores before pins, large before small; equal sizes by place, in steps coarser than rounding. */
function order(a: Bore | Pin, b: Bore | Pin, grain: number): number {
  if (a.kind !== b.kind) return a.kind === 'bore' ? -1 : 1;
  const step = (value: number) => Math.round(value / grain);
  return (
    step(b.diameter_mm) - step(a.diameter_mm) ||
    step(a.at_mm[0]) - step(b.at_mm[0]) ||
    step(a.at_mm[1]) - step(b.at_mm[1]) ||
    step(a.at_mm[2]) - step(b.at_mm[2])
  );
}
