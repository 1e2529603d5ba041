import type { Bounds, Mesh } from '@kinprint/mesh';
import { extentAlong } from './camera.ts';

/** The box of what is drawn of meshes, along the axes of their file. */
export function axisBounds(meshes: readonly Mesh[]): Bounds {
  return extentAlong(meshes, { right: [1, 0, 0], up: [0, 1, 0], toward: [0, 0, 1] });
}

export function diagonalOf({ min, max }: Bounds): number {
  const [x, y, z] = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
  return Math.sqrt(x * x + y * y + z * z);
}
