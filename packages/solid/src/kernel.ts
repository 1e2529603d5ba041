import type { Manifold, ManifoldToplevel } from 'manifold-3d/manifold';

/** One closed solid inside the kernel. Lives in WASM memory: whoever makes one must `delete()` it. */
export type KernelSolid = Manifold;

/** The loaded boolean kernel. Stateless for callers; hand it to every function that needs booleans. */
export interface Kernel {
  readonly api: ManifoldToplevel;
}

/**
 * Loads the boolean kernel (manifold-3d). Takes some 20–60 ms, so load it only when a boolean is needed; repeated
 * calls load afresh, so keep the result.
 *
 * `wasmUrl`: where `manifold.wasm` lies, for bundles that move it. Without it the kernel looks beside its own module.
 * In a browser the page's Content-Security-Policy must allow `'wasm-unsafe-eval'`.
 */
export async function loadKernel(options: { readonly wasmUrl?: string } = {}): Promise<Kernel> {
  const { wasmUrl } = options;
  const { default: load } = await import('manifold-3d/manifold');
  const api = await (wasmUrl === undefined ? load() : load({ locateFile: () => wasmUrl }));
  api.setup();
  return { api };
}

/** Why the kernel refused its input (its own code, e.g. `NotManifold`), or null when the error is something else. */
export function kernelRefusal(error: unknown): string | null {
  if (!(error instanceof Error) || error.name !== 'ManifoldError') return null;
  return 'code' in error && typeof error.code === 'string' ? error.code : 'unknown';
}

/** Runs `work` and frees every solid that it handed to `keep`, whatever happens. */
export function withSolids<T>(work: (keep: <S extends KernelSolid>(solid: S) => S) => T): T {
  const held: KernelSolid[] = [];
  try {
    return work(solid => {
      held.push(solid);
      return solid;
    });
  } finally {
    for (const solid of held) solid.delete();
  }
}
