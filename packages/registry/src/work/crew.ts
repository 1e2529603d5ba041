import { Worker } from 'node:worker_threads';
import { registryDefaults } from '../defaults.ts';
import { runJob, type JobKind, type Jobs } from './jobs.ts';
import { shared } from './shared.ts';

/**
 * Other threads that take up work within one file or one pair.
 *
 * Jobs are put on offer to all of them; the first to claim a job does it, this thread included, as soon as it needs
 * the result. So no thread waits while there is work nobody has begun, although this one cannot be reached while
 * it computes.
 */
export interface Crew {
  /** Fewer triangles are not worth sharing. */
  readonly leastTriangles: number;
  /** Starts the threads, so that they are up when the first job comes. */
  start(): void;
  /** Puts a job on offer. The function gives the result; when nobody has begun by then, the work is done here. */
  offer<K extends JobKind>(kind: K, input: Jobs[K]['input']): () => Promise<Jobs[K]['result']>;
  close(): Promise<void>;
}

export interface CrewOptions {
  /** The worker's file; null when there is none. */
  readonly worker: URL | null;
  /** Threads beside this one. */
  readonly threads: number;
  readonly leastTriangles?: number;
}

/** What a worker is told of a job. */
export interface OfferedJob<K extends JobKind = JobKind> {
  readonly id: number;
  readonly kind: K;
  readonly input: Jobs[K]['input'];
  /** In shared memory: 0 as long as nobody has claimed the job. */
  readonly claim: Int32Array;
  /** What the worker it is sent to writes there. */
  readonly mine: number;
}

/** What it answers; null when it failed. */
export interface JobAnswer {
  readonly id: number;
  readonly result: Jobs[JobKind]['result'] | null;
}

/** Whether the job is now ours to do. */
export function claimed({ claim, mine }: Pick<OfferedJob, 'claim' | 'mine'>): boolean {
  return Atomics.compareExchange(claim, 0, 0, mine) === 0;
}

/** What this thread claims with. */
const here = -1;

/** Threads are started with the first offer at the latest; null when there are none to be had. */
export function openCrew(options: CrewOptions): Crew | null {
  const { worker, threads, leastTriangles = registryDefaults.crewTriangles } = options;
  const count = Math.min(threads, registryDefaults.crewThreads);
  return worker === null || count < 1 ? null : crewOf(worker, count, leastTriangles);
}

interface OpenJob {
  readonly claim: Int32Array;
  readonly settle: (answer: JobAnswer) => void;
}

function crewOf(file: URL, count: number, leastTriangles: number): Crew {
  const open = new Map<number, OpenJob>();
  let workers: Worker[] = [];
  let jobs = 0;

  function begin(_: unknown, index: number): Worker {
    const worker = new Worker(file);
    worker.on('message', ({ id, result }: JobAnswer) => open.get(id)?.settle({ id, result }));
    // Memory running out and the like: the exit follows.
    worker.on('error', () => undefined);
    worker.on('exit', () => {
      for (const [id, job] of open) {
        if (Atomics.load(job.claim, 0) === index + 1) job.settle({ id, result: null });
      }
    });
    return worker;
  }

  function start(): void {
    if (workers.length === 0) workers = Array.from({ length: count }, begin);
  }

  return {
    leastTriangles,
    start,
    offer<K extends JobKind>(kind: K, input: Jobs[K]['input']) {
      start();
      const id = jobs++;
      const claim = new Int32Array(new SharedArrayBuffer(4));
      const job = { id, kind, input: shared(input), claim };
      const answer = new Promise<JobAnswer>(settle => open.set(id, { claim, settle }));
      workers.forEach((worker, index) => {
        worker.postMessage({ ...job, mine: index + 1 } satisfies OfferedJob<K>);
      });
      const get = async (): Promise<Jobs[K]['result']> => {
        if (claimed({ claim, mine: here })) return runJob(kind, job.input);
        const { result } = await answer;
        open.delete(id);
        // Whatever kept a worker from it, memory or a fault of ours, is told as it is when met in this thread.
        return (result as Jobs[K]['result'] | null) ?? runJob(kind, job.input);
      };
      let asked: Promise<Jobs[K]['result']> | null = null;
      return () => (asked ??= get());
    },
    async close() {
      await Promise.all(workers.map(worker => worker.terminate()));
    },
  };
}
