import type { Mat3, Mesh, Vec3 } from '../types.ts';
import { bounds, center } from './bounds.ts';
import { faceSums, type FaceSums } from './face-sums.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

export interface MassProperties {
  /** mm³; negative when the faces point inward. */
  readonly volume: number;
  /** Of the solid, in mm; null when the volume is nothing but rounding. */
  readonly centroid: Vec3 | null;
  /**
   * About the centroid, for density 1 per mm³, in mm⁵; off-diagonal entries are the negative products of inertia.
   * Of the solid itself: a mesh turned inside out has the same inertia. Null with the centroid.
   */
  readonly inertia: Mat3 | null;
  /** Ascending moments, unit axes as rows, right-handed (signs and ties: `symmetricEigen`). Null with the centroid. */
  readonly principal: { readonly moments: Vec3; readonly axes: Mat3 } | null;
}

/** A volume below this share of the tetrahedra's absolute volumes is rounding. */
export const NOTHING = 1e-12;

/**
 * Volume, centroid and inertia of the solid inside a mesh.
 *
 * Meaningful only when the oriented faces form a closed cycle (`pairEdges(mesh).closedCycle`); this is not checked
 * here. Overlapping shells count twice. Sums run about the middle of the bounds in double precision.
 */
export function massProperties(mesh: Mesh): MassProperties {
  const box = bounds(mesh);
  return massOfSums(faceSums(mesh, box === null ? [0, 0, 0] : center(box)));
}

/** The same from sums over the faces. */
export function massOfSums(sums: FaceSums): MassProperties {
  const { volume, about, first } = sums;
  if (Math.abs(volume) <= NOTHING * sums.turnover) {
    return { volume: volume + 0, centroid: null, inertia: null, principal: null };
  }
  const d: Vec3 = [first[0] / volume, first[1] / volume, first[2] / volume];
  // Second moments moved to the centroid, positive for either orientation.
  const sign = volume < 0 ? -1 : 1;
  const moment = (k: number, i: number, j: number) => sign * (sums.second[k] - volume * d[i] * d[j]);
  const xx = moment(0, 0, 0);
  const yy = moment(1, 1, 1);
  const zz = moment(2, 2, 2);
  const xy = 0 - moment(3, 0, 1);
  const yz = 0 - moment(4, 1, 2);
  const zx = 0 - moment(5, 2, 0);
  const inertia: Mat3 = [
    [yy + zz, xy, zx],
    [xy, zz + xx, yz],
    [zx, yz, xx + yy],
  ];
  const { values, vectors } = symmetricEigen(inertia);
  return {
    volume,
    centroid: [about[0] + d[0], about[1] + d[1], about[2] + d[2]],
    inertia,
    principal: { moments: values, axes: vectors },
  };
}
