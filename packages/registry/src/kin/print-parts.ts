import { fingerprintVersion, type Unit } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { entryInput } from '../work/entry-input.ts';
import { openPool } from '../work/pool.ts';
import { isMeshPrints, type MeshPrints } from './mesh-prints.ts';

/** A mesh to be looked up, read in a unit or in its own. */
export interface MeshIn {
  readonly entry: SnapshotEntry;
  readonly unit: Unit | null;
}

const kind = 'fingerprint';

/**
 * The fingerprints of meshes, on all cores; what was printed before is taken from the cache by content and unit. A
 * content that occurs several times is read once.
 *
 * @returns for each mesh, in their order; null for one that cannot be read
 * @throws Error for a fault of ours
 */
export async function printMeshes(
  wanted: readonly MeshIn[],
  cache: Cache,
  progress: (done: number, total: number) => void = () => undefined,
): Promise<(MeshPrints | null)[]> {
  const found = new Map<string, MeshPrints | null>();
  const missing = new Map<string, MeshIn>();
  for (const mesh of wanted) {
    const key = contentKey(mesh);
    if (key === null || found.has(key) || missing.has(key)) continue;
    const known = cache.get(kind, fingerprintVersion, key);
    if (isMeshPrints(known)) found.set(key, known);
    else missing.set(key, mesh);
  }
  if (missing.size > 0) {
    const bytes = [...missing.values()].reduce((sum, { entry }) => sum + (entry.size ?? 0), 0);
    const pool = openPool({ bytes, tasks: missing.size });
    let done = 0;
    try {
      await Promise.all(
        [...missing].map(async ([key, { entry, unit }]) => {
          const outcome = await pool.run<'prints'>(async () => ({
            kind: 'prints',
            file: await entryInput(entry, null, pool.threads),
            options: unit === null ? {} : { unit },
          }));
          progress(++done, missing.size);
          if (outcome.state === 'fault') throw new Error(outcome.text);
          found.set(key, outcome.state === 'done' ? outcome.result : null);
          if (outcome.state === 'done') cache.put(kind, fingerprintVersion, key, outcome.result);
        }),
      );
    } finally {
      await pool.close();
      cache.flush();
    }
  }
  return wanted.map(mesh => found.get(contentKey(mesh) ?? '') ?? null);
}

/** What decides of a mesh: the content and the unit. null without content. */
export function contentKey({ entry, unit }: MeshIn): string | null {
  return entry.problem !== null || entry.digest === null ? null : `${entry.digest} ${unit ?? ''}`;
}
