import type { TransferListItem } from 'node:worker_threads';
import type { Thread } from './thread.ts';

/** What came of asking: an answer, or none because it took too long or too much memory. */
export type Asked =
  | { readonly state: 'answered'; readonly answer: unknown }
  | { readonly state: 'late' }
  | { readonly state: 'out-of-memory' };

/**
 * Has a thread do something, and ends the thread when that takes longer than the limit: what it is at cannot be
 * interrupted. The next asker gets a new one.
 *
 * @throws Error when it dies of something else
 */
export async function askInTime(
  apart: Thread,
  question: unknown,
  transfer: readonly TransferListItem[],
  limit_ms: number,
): Promise<Asked> {
  let ended = false;
  const timer = setTimeout(() => {
    ended = true;
    void apart.end();
  }, limit_ms);
  try {
    return { state: 'answered', answer: await apart.ask(question, transfer) };
  } catch (error) {
    if (ended) return { state: 'late' };
    if (isOutOfMemory(error)) return { state: 'out-of-memory' };
    throw error;
  } finally {
    clearTimeout(timer);
  }
}

function isOutOfMemory(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
}
