import { availableParallelism } from 'node:os';
import type { Affine } from '@kinprint/mesh';
import type { Interferences } from '@kinprint/solid';
import { isRecord } from '../cache/is-record.ts';
import type { Cache } from '../cache/cache.ts';
import { isStill, keyOf, type MeshWanted } from '../check/measure-parts.ts';
import { registryDefaults } from '../defaults.ts';
import { entryOf } from '../state/entries.ts';
import type { RegistryFiles } from '../state/registry-files.ts';
import { askWithin } from '../work/booleans.ts';
import { builtWorker } from '../work/built-worker.ts';
import { entryInput } from '../work/entry-input.ts';
import { resultOrNull } from '../work/outcome.ts';
import { takeTurns } from '../work/turns.ts';
import { runTask } from '../work/run-task.ts';
import type { Task, TaskOutcome } from '../work/task.ts';
import { thread, type Thread } from '../work/thread.ts';

/** A mesh file where it stands. */
export interface PlacedMesh {
  readonly mesh: MeshWanted;
  readonly motion: Affine;
}

/** Finds what placed meshes interfere with, in threads that are ended when they take too long. */
export interface InterferenceSearch {
  /**
   * @param pairs how many are expected to be looked at; bounds the time
   * @returns null when it took too long or too much memory, or a mesh could not be read
   * @throws Error for a fault of ours
   */
  find(files: RegistryFiles, placed: readonly PlacedMesh[], pairs: number): Promise<Interferences | null>;
  close(): Promise<void>;
}

export interface InterferenceSearchOptions {
  readonly cache: Cache;
  /** The worker's file; by default the one built beside this program, or none when running from sources. */
  readonly worker?: URL | null;
  /** Milliseconds after which one assembly is given up; by default by the size of its files. */
  readonly limit_ms?: number;
}

const kind = 'interferences';
/** Rises with any change of what is found, or from when on it counts. */
const version = 1;

/** Threads start with the first assembly that is not in the cache. */
export function interferenceSearch({
  cache,
  worker = builtWorker(),
  limit_ms,
}: InterferenceSearchOptions): InterferenceSearch {
  const most = worker === null ? 1 : Math.min(availableParallelism(), registryDefaults.crewThreads);
  const turns = takeTurns(most);
  const threads: Thread[] = [];
  const idle: Thread[] = [];

  async function ask(task: Extract<Task, { kind: 'interferences' }>, limit: number) {
    if (worker === null) return runTask(task);
    const mine = idle.pop() ?? thread(worker, {});
    if (!threads.includes(mine)) threads.push(mine);
    try {
      return await askWithin<'interferences'>(mine, task, limit);
    } finally {
      idle.push(mine);
    }
  }

  return {
    async find(files, placed, pairs) {
      const keys = await Promise.all(placed.map(({ mesh }) => keyOf(files, mesh.ref, mesh.unit)));
      const key = JSON.stringify(placed.map(({ motion }, k) => [keys[k], motion.slice(0, 3)]));
      const known = cache.get(kind, version, key);
      if (isInterferences(known)) return known;
      // Copies of one content are read once.
      const firsts = [...new Set(keys)].map(content => keys.indexOf(content));
      const bytes = firsts.reduce((sum, k) => sum + (placed[k].mesh.ref.size ?? 0), 0);
      const outcome: TaskOutcome<Interferences> | null = await turns(async () => {
        const inputs = firsts.map(async k => {
          const { ref, unit } = placed[k].mesh;
          const file = await entryInput(await entryOf(files, ref), null, worker !== null);
          return { file, options: unit === null ? {} : { unit } };
        });
        const task = {
          kind: 'interferences',
          meshes: await Promise.all(inputs),
          placed: placed.map(({ motion }, k) => ({ mesh: firsts.indexOf(keys.indexOf(keys[k])), motion })),
        } as const;
        return ask(task, limit_ms ?? limitFor(bytes, pairs));
      });
      const found = outcome === null ? null : resultOrNull(outcome);
      const same = await Promise.all(firsts.map(k => isStill(files, placed[k].mesh.ref, keys[k])));
      if (found !== null && same.every(Boolean)) cache.put(kind, version, key, found);
      return found;
    },
    async close() {
      await Promise.all(threads.map(each => each.end()));
    },
  };
}

/** As for any booleans, and a tenth of a second for each pair; a triangle of a binary STL has 50 bytes. */
function limitFor(bytes: number, pairs: number): number {
  const { materialTime_ms, materialTimePerTriangle_ms } = registryDefaults;
  return materialTime_ms + (materialTimePerTriangle_ms * bytes) / 50 + 100 * pairs;
}

function isInterferences(value: unknown): value is Interferences {
  if (!isRecord(value) || !Array.isArray(value['found']) || !Array.isArray(value['unusable'])) return false;
  return (
    value['unusable'].every(Number.isSafeInteger) &&
    value['found'].every(
      (one: unknown) =>
        isRecord(one) &&
        [one['a'], one['b'], one['volume_mm3'], one['depth_mm']].every(Number.isFinite) &&
        Array.isArray(one['regions']) &&
        one['regions'].every(isRegion),
    )
  );
}

function isRegion(value: unknown): boolean {
  if (!isRecord(value) || !isRecord(value['bounds_mm'])) return false;
  const vectors = [value['centroid_mm'], value['bounds_mm']['min'], value['bounds_mm']['max']];
  return (
    [value['volume_mm3'], value['depth_mm'], value['depth_most_mm']].every(Number.isFinite) &&
    vectors.every(v => Array.isArray(v) && v.length === 3 && v.every(Number.isFinite))
  );
}
