import { randomUUID } from 'node:crypto';
import { noChoices, type Choices, type CombineMeshOptions } from '@kinprint/compare';
import { InputError, type ReadOptions } from '@kinprint/mesh';
import { registryDefaults } from '../defaults.ts';
import { snapshotFromPath } from '../snapshot/from-folder.ts';
import type { SnapshotEntry } from '../snapshot/types.ts';
import { askWithin } from '../work/booleans.ts';
import { builtWorker } from '../work/built-worker.ts';
import { forgetCombination } from '../work/combine-task.ts';
import { entryInput } from '../work/entry-input.ts';
import { resultOrThrow } from '../work/outcome.ts';
import { runTask } from '../work/run-task.ts';
import type { CombineFiles, CombineOutput, TaskOutcome, WrittenFormat } from '../work/task.ts';
import { thread } from '../work/thread.ts';

/** The three meshes to combine. */
export interface CombineEntries {
  readonly base: SnapshotEntry;
  readonly a: SnapshotEntry;
  readonly b: SnapshotEntry;
}

export interface CombineWork {
  readonly options: CombineMeshOptions;
  /** By default nothing is chosen. */
  readonly choices?: Choices;
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

/** Combinations that may be asked again with other choices: what does not depend on these is worked out once. */
export interface KeptCombinations {
  /**
   * Combines three mesh files in a thread of its own, which is ended when it takes too long: booleans cannot be
   * interrupted, and a stranger's file of a few thousand triangles can keep them busy for hours.
   *
   * @param key the same for the same files and options
   * @param names what to call the three in messages
   * @throws InputError `combine-not-finished`, and what keeps files from being read or combined
   */
  combine(
    this: void,
    key: string,
    entries: CombineEntries,
    names: Readonly<Record<'base' | 'a' | 'b', string>>,
    work: CombineWork,
  ): Promise<CombineOutput>;
  close(this: void): Promise<void>;
}

/** One combination, where it is worked on. */
interface Kept {
  readonly ask: (choices: Choices) => Promise<CombineOutput>;
  readonly end: () => Promise<void>;
  last: { readonly choices: string; readonly output: CombineOutput };
}

export function keptCombinations(): KeptCombinations {
  const known = new Map<string, Kept>();
  return {
    async combine(key, entries, names, work) {
      const choices = work.choices ?? noChoices;
      const kept = known.get(key);
      if (kept === undefined) {
        const opened = await openFiles(entries, names, work, choices);
        known.set(key, opened);
        return opened.last.output;
      }
      const asked = JSON.stringify(choices);
      if (kept.last.choices !== asked) kept.last = { choices: asked, output: await kept.ask(choices) };
      return kept.last.output;
    },
    async close() {
      await Promise.all([...known.values()].map(({ end }) => end()));
      known.clear();
    },
  };
}

/** The same once. */
export async function combineFiles(
  entries: CombineEntries,
  names: Readonly<Record<'base' | 'a' | 'b', string>>,
  work: CombineWork,
): Promise<CombineOutput> {
  const kept = keptCombinations();
  return kept.combine('', entries, names, work).finally(kept.close);
}

async function openFiles(
  entries: CombineEntries,
  names: Readonly<Record<'base' | 'a' | 'b', string>>,
  { options, format, read, worker = builtWorker(), limit_ms }: CombineWork,
  choices: Choices,
): Promise<Kept> {
  const input = async (side: 'base' | 'a' | 'b') => ({
    ...(await entryInput(entries[side], null, worker !== null)),
    name: names[side],
  });
  const files = { base: await input('base'), a: await input('a'), b: await input('b'), read };
  const keepAs = randomUUID();
  const task = { kind: 'combine', files, options, choices, format, keepAs } as const;
  const again = (wanted: Choices) =>
    ({ kind: 'combine-again', kept: keepAs, choices: wanted, format }) as const;
  const keptWith = async (
    output: Promise<CombineOutput>,
    ask: Kept['ask'],
    end: Kept['end'],
  ): Promise<Kept> => {
    try {
      return { ask, end, last: { choices: JSON.stringify(choices), output: await output } };
    } catch (error) {
      await end();
      throw error;
    }
  };
  if (worker === null) {
    const forget = (): Promise<void> => {
      forgetCombination(keepAs);
      return Promise.resolve();
    };
    return keptWith(
      runTask(task).then(resultOrThrow),
      wanted => runTask(again(wanted)).then(resultOrThrow),
      forget,
    );
  }
  const bytes = [entries.base, entries.a, entries.b].reduce((sum, entry) => sum + (entry.size ?? 0), 0);
  const limit = limit_ms ?? limitFor(bytes);
  const apart = thread(worker, {});
  return keptWith(
    askWithin<'combine'>(apart, task, limit).then(finished),
    wanted => askWithin<'combine-again'>(apart, again(wanted), limit).then(finished),
    () => apart.end(),
  );
}

function finished(outcome: TaskOutcome<CombineOutput> | null): CombineOutput {
  if (outcome !== null) return resultOrThrow(outcome);
  throw new InputError(
    'combine-not-finished',
    'It took too long or too much memory. The surfaces may cross themselves very often, or differ all over.',
    'Say with --tolerance up to how many millimeters surfaces count as the same, or let the program the meshes come from simplify them.',
  );
}

/** Several booleans over the whole meshes; a triangle of a binary STL has 50 bytes. */
function limitFor(bytes: number): number {
  return 4 * (registryDefaults.materialTime_ms + (registryDefaults.materialTimePerTriangle_ms * bytes) / 50);
}

/** Every file read alike. */
export function readAlike(options: ReadOptions): CombineFiles['read'] {
  return { base: options, a: options, b: options };
}
