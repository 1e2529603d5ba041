import type { Plane, ReadOptions, Vec3 } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { entryOf } from '../state/entries.ts';
import type { RegistryFiles } from '../state/registry-files.ts';
import { entryInput } from '../work/entry-input.ts';
import type { WorkPool } from '../work/pool.ts';
import type { FileInput, Stand, Task, TaskResults } from '../work/task.ts';
import { isStill, keyOf, type MeshWanted } from './measure-parts.ts';

/**
 * What is looked at in a mesh only where a check needs it, as few do. null where the mesh cannot be read, which is told
 * with the meshes.
 */
export interface CloserLook {
  /** How the part stands with each direction downward, in each volume (width, depth, height). */
  stand(
    mesh: MeshWanted,
    downs: readonly Vec3[],
    volumes_mm: readonly Vec3[],
  ): Promise<readonly Stand[] | null>;
  /** The planes near some points, however small they are beside others. */
  planes(mesh: MeshWanted, near: readonly Vec3[]): Promise<readonly Plane[] | null>;
}

/** Rises with any change of how these are found out. */
const version = 1;

/** @returns looks that the cache remembers by content */
export function closerLook(files: RegistryFiles, pool: WorkPool, cache: Cache): CloserLook {
  async function remembered<K extends 'stand' | 'planes'>(
    kind: string,
    { ref, unit }: MeshWanted,
    question: unknown,
    isAnswer: (value: unknown) => value is TaskResults[K],
    task: (file: FileInput, options: ReadOptions) => Extract<Task, { kind: K }>,
  ): Promise<TaskResults[K] | null> {
    if (ref.problem !== null) return null;
    const content = await keyOf(files, ref, unit);
    const key = `${content} ${JSON.stringify(question)}`;
    const known = cache.get(kind, version, key);
    if (isAnswer(known)) return known;
    const outcome = await pool.run<K>(async () =>
      task(await entryInput(await entryOf(files, ref), null, pool.threads), unit === null ? {} : { unit }),
    );
    if (outcome.state === 'fault') throw new Error(outcome.text);
    if (outcome.state !== 'done') return null;
    if (await isStill(files, ref, content)) cache.put(kind, version, key, outcome.result);
    return outcome.result;
  }
  return {
    stand: (mesh, downs, volumes_mm) =>
      remembered<'stand'>(
        'part-standing',
        mesh,
        [downs, volumes_mm],
        value => isStands(value, downs.length, volumes_mm.length),
        (file, options) => ({ kind: 'stand', file, downs, volumes_mm, options }),
      ),
    planes: (mesh, near) =>
      remembered<'planes'>('part-planes', mesh, near, isPlanes, (file, options) => ({
        kind: 'planes',
        file,
        near,
        options,
      })),
  };
}

function isStands(value: unknown, downs: number, volumes: number): value is readonly Stand[] {
  return (
    Array.isArray(value) &&
    value.length === downs &&
    value.every((stand: Partial<Stand> | null) => {
      const turned = stand?.turned_deg;
      return (
        Array.isArray(turned) &&
        turned.length === volumes &&
        turned.every(degrees => degrees === null || Number.isFinite(degrees))
      );
    })
  );
}

function isPlanes(value: unknown): value is readonly Plane[] {
  const isVector = (v: unknown): boolean => Array.isArray(v) && v.length === 3 && v.every(Number.isFinite);
  return (
    Array.isArray(value) &&
    value.every(
      (plane: Partial<Plane> | null) =>
        plane?.kind === 'plane' &&
        isVector(plane.axis) &&
        isVector(plane.at_mm) &&
        Number.isFinite(plane.area_mm2),
    )
  );
}
