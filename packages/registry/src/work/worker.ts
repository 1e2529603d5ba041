import { parentPort } from 'node:worker_threads';
import { booleansApart } from './booleans.ts';
import { claimed, type JobAnswer, type OfferedJob } from './crew.ts';
import { runJob } from './jobs.ts';
import { errorOutcome, runTask } from './run-task.ts';
import type { Task } from './task.ts';

const booleans = booleansApart(new URL(import.meta.url));

// The entry of a worker thread: a task or an offered job comes in, what became of it goes out.
parentPort?.on('message', (message: Task | OfferedJob) => {
  if ('claim' in message) takeUp(message);
  else void doTask(message);
});

async function doTask(task: Task): Promise<void> {
  const outcome = await runTask(task, { booleans });
  try {
    parentPort?.postMessage(outcome);
  } catch (error) {
    parentPort?.postMessage(errorOutcome(error));
  }
}

function takeUp(job: OfferedJob): void {
  if (!claimed(job)) return;
  const answer = (result: JobAnswer['result']): void => {
    parentPort?.postMessage({ id: job.id, result } satisfies JobAnswer);
  };
  try {
    answer(runJob(job.kind, job.input));
  } catch {
    // The thread that asked meets the same fault when it does the job itself, and can tell it.
    answer(null);
  }
}
