import type { ResourceLimits } from 'node:worker_threads';
import { takeTurns } from './turns.ts';
import { thread, type Thread } from './thread.ts';

/** Threads of one kind; work gets one of them in its turn, and gives it back. */
export interface Threads {
  /** @throws Error after `close`, and whatever the work throws */
  run<T>(work: (mine: Thread) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/** @param worker the file that each runs; they are started with their first work */
export function openThreads(worker: URL, count: number, limits: ResourceLimits = {}): Threads {
  const threads = Array.from({ length: count }, () => thread(worker, limits));
  const idle = [...threads];
  const turns = takeTurns(count);
  let closed = false;
  return {
    run: work =>
      turns(async () => {
        // Who gave up has others still waiting for their turn: a thread begun for them would never end.
        if (closed) throw new Error(afterClose);
        const mine = idle.pop() ?? thread(worker, limits);
        try {
          return await work(mine);
        } finally {
          idle.push(mine);
        }
      }),
    async close() {
      closed = true;
      await Promise.all(threads.map(each => each.end()));
    },
  };
}

/** What becomes of work that waits for its turn when all is closed. */
export const afterClose = 'The work was given up.';
