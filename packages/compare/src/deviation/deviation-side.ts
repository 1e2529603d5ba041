import type { TriangleTree } from '@kinprint/mesh';
import { compareDefaults } from '../defaults.ts';
import { deviationRange, type DeviationPart } from './deviation-range.ts';
import type { Fineness } from './integrate.ts';
import { orientedNeighbors } from './neighbors.ts';
import {
  emptyVertexDistances,
  measureVertices,
  usedVertices,
  type VertexDistances,
} from './vertex-distances.ts';

/** One surface to be measured against the other: plain data, for any thread. */
export interface SideTask {
  readonly from: TriangleTree;
  readonly to: TriangleTree;
  /** Per slot of `from`: 1 for a face that the other surface has too. */
  readonly skip: Uint8Array;
}

/** The distances of the vertices of one side. */
export interface SideVertices {
  readonly atVertices: VertexDistances;
  /** Greatest distance of a vertex, −1 without any, and that vertex. */
  readonly low: number;
  readonly farthest: number;
}

/** What is measured between the vertices of one side, once those of both sides are known. */
export interface RangeTask extends SideTask {
  readonly vertices: SideVertices;
  /** The greatest distance of a vertex of either side: no less far point need be looked for on this one. */
  readonly low: number;
  readonly tolerance_mm: number;
  /** Error of the maximum that is aimed at. */
  readonly epsilon_mm: number;
}

export interface SideRange {
  readonly part: DeviationPart;
  /** Per slot 1 when the face deviates by more than the tolerance, or was not proven not to. */
  readonly changed: Uint8Array;
}

/** First step: the distances of the vertices of one side. */
export function sideVertices({ from, to, skip }: SideTask): SideVertices {
  const atVertices = emptyVertexDistances(from);
  const wanted = usedVertices(from, skip);
  const farthest = measureVertices(from, to, wanted, 0, wanted.length, atVertices);
  return { atVertices, farthest, low: farthest < 0 ? -1 : atVertices.distance[farthest] };
}

/** Second step: everything between the vertices of one side. */
export function sideRange(task: RangeTask): SideRange {
  const { from, to, skip, low, vertices, tolerance_mm, epsilon_mm } = task;
  const { atVertices } = vertices;
  const changed = new Uint8Array(from.size);
  const part = deviationRange(
    {
      from,
      to,
      neighbors: vertices.farthest < 0 ? new Int32Array(0) : orientedNeighbors(to),
      skip,
      atVertices,
      low,
      tolerance_mm,
      epsilon_mm,
      fineness: finenessFor(from, skip, atVertices, low),
      budget: {
        integral: compareDefaults.deviationRefinements,
        pieces: compareDefaults.deviationPieces + compareDefaults.deviationPiecesPerFace * from.size,
      },
    },
    0,
    from.size,
    changed,
  );
  return { part, changed };
}

/** Sampling that keeps the error of the mean near the one aimed at. */
function finenessFor(
  tree: TriangleTree,
  skip: Uint8Array,
  atVertices: VertexDistances,
  low: number,
): Fineness {
  const { vertices: v, corners } = tree;
  const { distance } = atVertices;
  let area = 0;
  let integral = 0;
  for (let slot = 0; slot < tree.size; slot++) {
    const [i, j, k] = [3 * corners[3 * slot], 3 * corners[3 * slot + 1], 3 * corners[3 * slot + 2]];
    const ux = v[j] - v[i];
    const uy = v[j + 1] - v[i + 1];
    const uz = v[j + 2] - v[i + 2];
    const wx = v[k] - v[i];
    const wy = v[k + 1] - v[i + 1];
    const wz = v[k + 2] - v[i + 2];
    const own = Math.sqrt((uy * wz - uz * wy) ** 2 + (uz * wx - ux * wz) ** 2 + (ux * wy - uy * wx) ** 2) / 2;
    if (skip[slot] === 1) continue;
    area += own;
    integral += (own * (distance[i / 3] + distance[j / 3] + distance[k / 3])) / 3;
  }
  // Faces that are shared need no sampling: the shares are of the area of the others.
  const guess = Math.max(integral, 1e-4 * low * area);
  return {
    coarsest_mm2: area / compareDefaults.deviationLeastPieces,
    finest_mm2: area / compareDefaults.deviationMostPieces,
    error_mm2: area > 0 ? (compareDefaults.deviationMeanError * guess) / Math.sqrt(area) : 0,
  };
}
