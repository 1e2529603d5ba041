import type { Cylinder } from './cylinder-fit.ts';

/** Faces that lie on one cylinder. */
export interface RoundRegion {
  /** 1: the outward normals point away from the axis (a pin); −1: towards it (a bore). */
  readonly sense: 1 | -1;
  readonly cylinder: Cylinder;
  readonly faces: readonly number[];
  /** Vertices that lie on the cylinder (not those that a cut left on the flats between), ascending. */
  readonly vertices: readonly number[];
  readonly rms: number;
  readonly max: number;
  /** Spans of the flat facets as seen from the axis, radians; empty where the surface is not made of flat strips. */
  readonly spans: readonly number[];
}

/** Coordinates of some vertices, 3 per vertex. */
export function coordinatesOf(positions: ArrayLike<number>, vertices: readonly number[]): Float64Array {
  const points = new Float64Array(3 * vertices.length);
  for (let i = 0; i < vertices.length; i++) {
    points[3 * i] = positions[3 * vertices[i]];
    points[3 * i + 1] = positions[3 * vertices[i] + 1];
    points[3 * i + 2] = positions[3 * vertices[i] + 2];
  }
  return points;
}
