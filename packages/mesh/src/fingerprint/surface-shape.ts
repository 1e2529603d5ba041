import type { Mesh } from '../types.ts';
import { addTo, distribution, stepMeans } from './distribution.ts';
import { harmonicCount, harmonicsAt, harmonicStarts } from './harmonics.ts';
import { forEachPiece } from './surface-pieces.ts';
import type { SurfaceSums } from './surface-sums.ts';

/** Steps that each distribution is told in. */
export const shapeSteps = 8;
/** Soft shells about the center, as shares of the root mean square distance: the peaks of their weights. */
const shells = 3;
const shellSpacing = 0.6;
/** Summed in thin layers first, of which so many make the slope of a shell; the last layer has no end. */
const layersPerShell = 60;
const layersPerUnit = layersPerShell / shellSpacing;
const layers = shells * layersPerShell + 1;
/** Pieces are this share of the root mean square distance long: a ball makes about 20 000. */
const pieceShare = 1 / 40;
const mostPieces = 100_000;
/** Nothing but a thin spike reaches farther than so many root mean squares. */
const farthest = 4;
const placesPerUnit = 256;

/** How a surface is spread about its middle, in numbers that no motion, reflection or scaling changes. */
export interface SurfaceShape {
  /** Means of the eighths of the distances of the surface from its middle, by the root mean square distance. */
  readonly distances: readonly number[];
  /** The same of the distances of its tangent planes. */
  readonly planes: readonly number[];
  /** For each of three soft shells, the amplitudes of degrees 1 to 3 of how the area is spread over directions. */
  readonly harmonics: readonly number[];
}

/**
 * Distances from the middle: the shape distribution D1 of R. Osada, T. Funkhouser, B. Chazelle, D. Dobkin, "Shape
 * distributions", ACM TOG 21(4), 2002, integrated and not sampled. Amplitudes of spherical harmonics by shells:
 * M. Kazhdan, T. Funkhouser, S. Rusinkiewicz, "Rotation invariant spherical harmonic representation of 3D shape
 * descriptors", Symposium on Geometry Processing, 2003; there of voxels, here of the area itself.
 */
export function surfaceShape(mesh: Mesh, sums: SurfaceSums, rms: number): SurfaceShape {
  const distances = distribution(farthest, placesPerUnit);
  const planes = distribution(farthest, placesPerUnit);
  const amplitudes = new Float64Array(layers * harmonicCount);
  const values = new Float64Array(harmonicCount);
  forEachPiece(mesh, sums.centroid, rms * pieceShare, mostPieces, (x, y, z, area, distance) => {
    const r = Math.sqrt(x * x + y * y + z * z);
    addTo(distances, r / rms, area);
    addTo(planes, distance / rms, area);
    if (!(r > 0)) return;
    harmonicsAt(x / r, y / r, z / r, values);
    const layer = Math.min(Math.floor((r / rms) * layersPerUnit), layers - 1) * harmonicCount;
    for (let k = 0; k < harmonicCount; k++) amplitudes[layer + k] += area * values[k];
  });
  return {
    distances: stepMeans(distances, shapeSteps),
    planes: stepMeans(planes, shapeSteps),
    harmonics: shellPowers(amplitudes).map(power => power / sums.area),
  };
}

/** The amplitude of each degree in each shell, from the sums of the thin layers. */
function shellPowers(sums: Float64Array): number[] {
  const found: number[] = [];
  for (let shell = 1; shell <= shells; shell++) {
    const amplitudes = new Float64Array(harmonicCount);
    for (let layer = 0; layer < layers; layer++) {
      // Hats that sum to 1 beyond the first peak; the outermost does not fall.
      const at = (layer + 0.5) / layersPerShell;
      const share = shell === shells && at > shell ? 1 : Math.max(0, 1 - Math.abs(at - shell));
      if (share === 0) continue;
      for (let k = 0; k < harmonicCount; k++) amplitudes[k] += share * sums[layer * harmonicCount + k];
    }
    for (let degree = 0; degree + 1 < harmonicStarts.length; degree++) {
      const own = amplitudes.subarray(harmonicStarts[degree], harmonicStarts[degree + 1]);
      found.push(Math.sqrt(own.reduce((sum, value) => sum + value * value, 0)));
    }
  }
  return found;
}
