import { availableParallelism } from 'node:os';
import type { ResourceLimits, TransferListItem } from 'node:worker_threads';
import { registryDefaults } from '../defaults.ts';
import { booleansApart, booleansHere } from './booleans.ts';
import { builtWorker } from './built-worker.ts';
import { openCrew } from './crew.ts';
import { errorOutcome, runTask } from './run-task.ts';
import type { FileInput, Task, TaskOutcome, TaskResults } from './task.ts';
import { afterClose, openThreads } from './threads.ts';
import { takeTurns } from './turns.ts';

/** Does tasks, several at a time where that pays. */
export interface WorkPool {
  /** Whether tasks run in other threads, so that bytes and not open sources must be handed over. */
  readonly threads: boolean;
  /**
   * Does one task. Its input is made only when its turn comes, so that no more files are in memory than are worked
   * on. Whatever goes wrong, a crash of the worker included, is in the outcome. After `close` nothing is begun.
   */
  run<K extends Task['kind']>(
    make: () => Promise<Extract<Task, { kind: K }>>,
  ): Promise<TaskOutcome<TaskResults[K]>>;
  close(): Promise<void>;
}

export interface PoolOptions {
  /** Content to be worked on in all; null when unknown. */
  readonly bytes: number | null;
  readonly tasks: number;
  /** The worker's file; by default the one built beside this file, or none when running from sources. */
  readonly worker?: URL | null;
  readonly threads?: number;
  /** Bounds of each thread's heap. */
  readonly limits?: ResourceLimits;
}

/** Threads when there is enough to do for several, and else this very thread, which shares large meshes with others. */
export function openPool(options: PoolOptions): WorkPool {
  const { bytes, tasks, worker = builtWorker(), threads = availableParallelism(), limits = {} } = options;
  const count = Math.min(threads, tasks);
  const small = bytes !== null && bytes < registryDefaults.workerBytes;
  return worker === null || count < 2 || small
    ? thisThread(worker, threads)
    : otherThreads(worker, count, limits);
}

function thisThread(worker: URL | null, threads: number): WorkPool {
  const turns = takeTurns(1);
  let closed = false;
  const crew = openCrew({ worker, threads: threads - 1 });
  const booleans = worker === null ? booleansHere : booleansApart(worker);
  return {
    threads: false,
    run: make =>
      turns(() =>
        guarded(async () =>
          closed ? errorOutcome(new Error(afterClose)) : runTask(await make(), { crew, booleans }),
        ),
      ),
    async close() {
      closed = true;
      await Promise.all([crew?.close(), booleans.close()]);
    },
  };
}

function otherThreads(worker: URL, count: number, limits: ResourceLimits): WorkPool {
  const threads = openThreads(worker, count, limits);
  return {
    threads: true,
    run: <K extends Task['kind']>(make: () => Promise<Extract<Task, { kind: K }>>) =>
      guarded(() =>
        threads.run(async mine => {
          const task = await make();
          return (await mine.ask(task, transferable(task))) as TaskOutcome<TaskResults[K]>;
        }),
      ),
    close: () => threads.close(),
  };
}

async function guarded<T>(work: () => Promise<TaskOutcome<T>>): Promise<TaskOutcome<T>> {
  try {
    return await work();
  } catch (error) {
    return errorOutcome(error);
  }
}

/** Bytes are handed over, not copied. */
function transferable(task: Task): TransferListItem[] {
  const inputs = inputsOf(task);
  const buffers = inputs.flatMap(({ content }) =>
    content.kind === 'bytes' ? [content.bytes.buffer as ArrayBuffer] : [],
  );
  return [...new Set(buffers)];
}

function inputsOf(task: Task): readonly FileInput[] {
  switch (task.kind) {
    case 'compare':
    case 'relate':
      return [task.before, task.after];
    case 'kin':
      return [task.query, task.candidate];
    case 'measure':
    case 'prints':
    case 'summarize':
    case 'planes':
    case 'stand':
    case 'symmetric':
      return [task.file];
    case 'combine':
      return [task.files.base, task.files.a, task.files.b];
    case 'interferences':
      return task.meshes.map(({ file }) => file);
    case 'combine-again':
    case 'material':
      return [];
  }
}
