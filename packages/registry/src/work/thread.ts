import { Worker, type ResourceLimits, type TransferListItem } from 'node:worker_threads';

/** One worker thread that does one task at a time and is replaced when it dies. */
export interface Thread {
  /** Sends a task and waits for the answer. Rejects when the thread dies over it. */
  ask(task: unknown, transfer: readonly TransferListItem[]): Promise<unknown>;
  end(): Promise<void>;
}

/**
 * A thread that runs `file`, started with its first task. Whatever ends it (an uncaught error, memory running out,
 * an exit) rejects the task it was at; the next task gets a new one.
 */
export function thread(file: URL, limits: ResourceLimits): Thread {
  let worker: Worker | null = null;

  function start(): Worker {
    const started = new Worker(file, { resourceLimits: limits });
    // Between two tasks nobody listens, and an error without a listener would end the program.
    started.on('error', () => undefined);
    started.on('exit', () => {
      if (worker === started) worker = null;
    });
    return started;
  }

  return {
    ask(task, transfer) {
      const asked = (worker ??= start());
      return new Promise((resolve, reject) => {
        let cause: unknown = null;
        const done = (): void => {
          asked
            .off('message', answered)
            .off('error', failed)
            .off('exit', exited)
            .off('messageerror', unreadable);
        };
        const answered = (answer: unknown): void => {
          done();
          resolve(answer);
        };
        // The exit follows; only then can a new thread take over.
        const failed = (error: unknown): void => {
          cause = error;
        };
        const unreadable = (error: unknown): void => {
          done();
          reject(
            error instanceof Error ? error : new Error('The answer of the worker thread cannot be read.'),
          );
        };
        const exited = (code: number): void => {
          done();
          if (worker === asked) worker = null;
          reject(cause instanceof Error ? cause : new Error(`The worker thread ended with code ${code}.`));
        };
        asked.on('message', answered).on('error', failed).on('exit', exited).on('messageerror', unreadable);
        asked.postMessage(task, transfer);
      });
    },
    async end() {
      await worker?.terminate();
    },
  };
}
