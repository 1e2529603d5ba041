import { materialWith, type MaterialWork } from '@kinprint/compare';
import { loadKernel, type Kernel } from '@kinprint/solid';
import { registryDefaults } from '../defaults.ts';
import { thread } from './thread.ts';
import type { TaskOutcome, TaskResults } from './task.ts';

/** Where booleans run. */
export interface Booleans {
  readonly find: MaterialWork;
  close(): Promise<void>;
}

/**
 * Booleans in a thread of their own, which is ended when they take too long: the kernel cannot be interrupted, and a
 * stranger's file of a few thousand triangles can keep it busy for hours. A thread that runs out of memory is no
 * harm to this one either.
 */
export function booleansApart(worker: URL, timeLimit_ms = materialTime_ms): Booleans {
  const apart = thread(worker, {});
  return {
    async find(before, after, options) {
      let ended = false;
      const timer = setTimeout(
        () => {
          ended = true;
          void apart.end();
        },
        timeLimit_ms((before.triangles.length + after.triangles.length) / 3),
      );
      try {
        return finished(
          (await apart.ask({ kind: 'material', before, after, options }, [])) as TaskOutcome<
            TaskResults['material']
          >,
        );
      } catch (error) {
        if (ended || isOutOfMemory(error)) return null;
        throw error;
      } finally {
        clearTimeout(timer);
      }
    },
    close: () => apart.end(),
  };
}

/** Booleans in this thread, with no limit. */
export const booleansHere: Booleans = { find: materialWith(kernel), close: () => Promise.resolve() };

/** Milliseconds that booleans over so many triangles may take. */
function materialTime_ms(triangles: number): number {
  return registryDefaults.materialTime_ms + registryDefaults.materialTimePerTriangle_ms * triangles;
}

function finished(outcome: TaskOutcome<TaskResults['material']>): TaskResults['material'] {
  if (outcome.state === 'done') return outcome.result;
  throw new Error(outcome.state === 'fault' ? outcome.text : outcome.error.message);
}

function isOutOfMemory(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
}

let loading: Promise<Kernel> | null = null;

/** The boolean kernel, loaded when first needed and kept. */
function kernel(): Promise<Kernel> {
  return (loading ??= loadKernel());
}
