import type { CombineMeshOptions } from '@kinprint/compare';
import { InputError, type ReadOptions } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { snapshotFromPath } from '../snapshot/from-folder.ts';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { askWithin } from '../work/booleans.ts';
import { builtWorker } from '../work/built-worker.ts';
import { entryInput } from '../work/entry-input.ts';
import { resultOrThrow } from '../work/outcome.ts';
import { runTask } from '../work/run-task.ts';
import type { CombineFiles, CombineOutput, WrittenFormat } from '../work/task.ts';
import { thread } from '../work/thread.ts';

/** The three meshes to combine. */
export interface CombineEntries {
  readonly base: SnapshotEntry;
  readonly a: SnapshotEntry;
  readonly b: SnapshotEntry;
}

export interface CombineWork {
  readonly options: CombineMeshOptions;
  readonly format: WrittenFormat;
  /** How each is read; the same way for all where one is given. */
  readonly read: CombineFiles['read'];
  /** The worker's file; by default the one built beside this program, or none when running from sources. */
  readonly worker?: URL | null;
  /** Milliseconds after which it is given up; by default by the size of the files. */
  readonly limit_ms?: number;
}

/**
 * The mesh files of a combination, by their paths.
 *
 * @throws InputError `combine-folder`, `file-not-found` and the like
 */
export function combineEntries(paths: Readonly<Record<'base' | 'a' | 'b', string>>): CombineEntries {
  const entry = (place: string): SnapshotEntry => {
    const { kind, entries } = snapshotFromPath(place);
    if (kind === 'file') return entries[0];
    throw new InputError('combine-folder', 'It is a folder.', 'Name three mesh files, or three variants.', {
      file: place,
    });
  };
  return { base: entry(paths.base), a: entry(paths.a), b: entry(paths.b) };
}

/**
 * Combines three mesh files in a thread of its own, which is ended when it takes too long: booleans cannot be
 * interrupted, and a stranger's file of a few thousand triangles can keep them busy for hours.
 *
 * @param names what to call the three in messages
 * @throws InputError `combine-not-finished`, and what keeps files from being read or combined
 */
export async function combineFiles(
  entries: CombineEntries,
  names: Readonly<Record<'base' | 'a' | 'b', string>>,
  { options, format, read, worker = builtWorker(), limit_ms }: CombineWork,
): Promise<CombineOutput> {
  const input = async (side: 'base' | 'a' | 'b') => ({
    ...(await entryInput(entries[side], null, worker !== null)),
    name: names[side],
  });
  const files = { base: await input('base'), a: await input('a'), b: await input('b'), read };
  const task = { kind: 'combine', files, options, format } as const;
  if (worker === null) return resultOrThrow(await runTask(task));
  const bytes = [entries.base, entries.a, entries.b].reduce((sum, entry) => sum + (entry.size ?? 0), 0);
  const apart = thread(worker, {});
  try {
    const outcome = await askWithin<'combine'>(apart, task, limit_ms ?? limitFor(bytes));
    if (outcome !== null) return resultOrThrow(outcome);
    throw new InputError(
      'combine-not-finished',
      'It took too long or too much memory. The surfaces may cross themselves very often, or differ all over.',
      'Say with --tolerance up to how many millimeters surfaces count as the same, or let the program the meshes come from simplify them.',
    );
  } finally {
    await apart.end();
  }
}

/** Several booleans over the whole meshes; a triangle of a binary STL has 50 bytes. */
function limitFor(bytes: number): number {
  return 4 * (registryDefaults.materialTime_ms + (registryDefaults.materialTimePerTriangle_ms * bytes) / 50);
}

/** Every file read alike. */
export function readAlike(options: ReadOptions): CombineFiles['read'] {
  return { base: options, a: options, b: options };
}
