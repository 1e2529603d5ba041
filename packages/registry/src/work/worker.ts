import { runTask } from './run-task.ts';
import type { Task, TaskOutcome, TaskResults } from './task.ts';

/** The entry of a worker thread: one task in, its outcome out. */
export default function work(task: Task): Promise<TaskOutcome<TaskResults[Task['kind']]>> {
  return runTask(task);
}
