import type { VariantDocument } from '@kinprint/manifest';
import type { Plane } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { RegistryFiles } from '../state/registry-files.ts';
import { openPool } from '../work/pool.ts';
import { closerLook, type CloserLook } from './closer-look.ts';
import type { PartLook } from './facts.ts';
import type { MeshWanted } from './measure-parts.ts';
import { planesWanted } from './rules/interfaces.ts';

export interface NearPlanesMeans {
  readonly cache: Cache;
  /** By default one with threads of its own, which are ended. */
  readonly closer?: CloserLook;
  /** The worker's file, for threads of its own. */
  readonly worker?: URL | null;
}

/**
 * The planes where slots, tongues and faces are declared that the largest planes of a mesh do not already tell; by the
 * part's index, null where nothing more had to be looked for.
 */
export async function nearPlanes(
  files: RegistryFiles,
  { parts }: VariantDocument,
  meshes: readonly (MeshWanted | null)[],
  looks: readonly (PartLook | null | undefined)[],
  { cache, closer, worker }: NearPlanesMeans,
): Promise<(readonly Plane[] | null)[]> {
  const near = parts.map((part, k) => (meshes[k] === null ? null : planesWanted(part, looks[k])));
  const find = (look: CloserLook) =>
    Promise.all(
      near.map(async (points, k) => {
        const mesh = meshes[k];
        return points === null || mesh === null ? null : look.planes(mesh, points);
      }),
    );
  if (closer !== undefined) return find(closer);
  const tasks = near.filter(points => points !== null).length;
  if (tasks === 0) return near.map(() => null);
  const pool = openPool({ bytes: null, tasks, ...(worker === undefined ? {} : { worker }) });
  try {
    return await find(closerLook(files, pool, cache));
  } finally {
    await pool.close();
  }
}
