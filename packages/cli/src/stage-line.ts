import { clean } from '@kinprint/report';
import type { Io } from './io.ts';

/** What is being done, as a line on standard error that is rewritten in place; silent where that is no terminal. */
export function stageLine(io: Io): { at(text: string): void; end(): void } {
  const clear = '\r\u001b[K';
  let shown = false;
  return {
    at(text) {
      if (!io.progress) return;
      shown = true;
      io.err(`${clear}${clean(text).slice(0, Math.max(10, io.columns - 1))}`);
    },
    end() {
      if (shown) io.err(clear);
      shown = false;
    },
  };
}
