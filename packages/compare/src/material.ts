import type { Mesh } from '@kinprint/mesh';
import {
  materialDifference,
  type Kernel,
  type MaterialDifference,
  type MaterialOptions,
} from '@kinprint/solid';

/**
 * Finds the material that was added and removed. Whoever runs it may bound its time or memory: null says that it was
 * given up.
 */
export type MaterialWork = (
  before: Mesh,
  after: Mesh,
  options: MaterialOptions,
) => Promise<MaterialDifference | null>;

/** In this thread, for as long as it takes. The kernel is asked for when first needed. */
export function materialWith(kernel: () => Promise<Kernel>): MaterialWork {
  return async (before, after, options) => materialDifference(await kernel(), before, after, options);
}
