import type { Mesh } from '@kinprint/mesh';
import { bodyOf } from '../body.ts';
import { bodyToManifold, toManifold } from '../convert.ts';
import { coarseAround } from '../difference/coarsen.ts';
import type { Frame } from '../frame.ts';
import type { Kernel, KernelSolid } from '../kernel.ts';

/**
 * A solid to be compared with others that lie in some places: coarse elsewhere, so that a boolean has little to do.
 * What it has in common with them, and they with what is outside it, is what it would be with the mesh as it is. The
 * caller must `delete()` it.
 *
 * @throws InputError `not-a-solid`
 */
export function solidAround(
  kernel: Kernel,
  mesh: Mesh,
  places: readonly Mesh[],
  frame: Frame,
  tolerance_mm: number,
): KernelSolid {
  const body = bodyOf(mesh);
  if (body === null) return toManifold(kernel, mesh, frame);
  return bodyToManifold(kernel, coarseAround(body, places, tolerance_mm), frame);
}
