import { concatenate, readMesh, type Mesh, type ReadOptions } from '@kinprint/mesh';
import type { OpenSource } from '../snapshot/types.ts';

/**
 * All objects of a mesh file as one mesh, as they are placed; closes the source.
 *
 * @throws InputError when it cannot be read
 */
export function wholeMesh(source: OpenSource, options: ReadOptions): Mesh {
  try {
    return concatenate(readMesh(source, options).objects.map(object => object.mesh));
  } finally {
    source.close();
  }
}

/** Reflection in the plane x = 0. */
export const mirrorInX = [
  [-1, 0, 0, 0],
  [0, 1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, 0, 1],
] as const;
