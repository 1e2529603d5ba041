import { parentPort } from 'node:worker_threads';
import { errorOutcome, runTask } from './run-task.ts';
import type { Task } from './task.ts';

// The entry of a worker thread: a task comes in, its outcome goes out.
parentPort?.on('message', (task: Task) => {
  void runTask(task).then(outcome => {
    try {
      parentPort?.postMessage(outcome);
    } catch (error) {
      parentPort?.postMessage(errorOutcome(error));
    }
  });
});
