import loadManifold from 'manifold-3d/manifold';
import type { Kernel } from './build.ts';

/** Loads the geometry kernel. Takes about 0.1 s. */
export async function loadShapeKernel(): Promise<Kernel> {
  const kernel = await loadManifold();
  kernel.setup();
  return kernel;
}
