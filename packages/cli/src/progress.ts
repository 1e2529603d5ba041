import type { Io } from './io.ts';

/** A line of progress on standard error, rewritten in place; silent where standard error is no terminal. */
export function progressLine(io: Io, total: number, what: string): { at(done: number): void; end(): void } {
  if (!io.progress || total < 2) return { at: () => undefined, end: () => undefined };
  const clear = '\r\u001b[K';
  return {
    at: done => io.err(`${clear}${done} of ${total} ${what}s`),
    end: () => io.err(clear),
  };
}

/** The same where the total is told with the first step. */
export function progressOf(io: Io, what: string): { at(done: number, total: number): void; end(): void } {
  let line: ReturnType<typeof progressLine> | null = null;
  return {
    at: (done, total) => (line ??= progressLine(io, total, what)).at(done),
    end: () => line?.end(),
  };
}
