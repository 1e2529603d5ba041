import { materialWith, type MaterialWork } from '@kinprint/compare';
import { loadKernel, type Kernel } from '@kinprint/solid';
import { registryDefaults } from '../defaults.ts';
import { askInTime } from './ask-in-time.ts';
import { thread, type Thread } from './thread.ts';
import type { Task, TaskOutcome, TaskResults } from './task.ts';

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
      const limit = timeLimit_ms((before.triangles.length + after.triangles.length) / 3);
      const outcome = await askWithin<'material'>(apart, { kind: 'material', before, after, options }, limit);
      return outcome === null ? null : finished(outcome);
    },
    close: () => apart.end(),
  };
}

/** The same for a task with booleans in it: the kernel cannot be interrupted. */
export async function askWithin<K extends Task['kind']>(
  apart: Thread,
  task: Extract<Task, { kind: K }>,
  limit_ms: number,
): Promise<TaskOutcome<TaskResults[K]> | null> {
  const answer = await askInTime(apart, task, [], limit_ms);
  return answer.state === 'answered' ? (answer.answer as TaskOutcome<TaskResults[K]>) : null;
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

let loading: Promise<Kernel> | null = null;

/** The boolean kernel, loaded when first needed and kept. */
export function kernel(): Promise<Kernel> {
  return (loading ??= loadKernel());
}
