import type { Dialog } from '../../packages/cli/src/io.ts';

/** Somebody at the terminal who types the given lines, then ends the input. Keeps what was asked. */
export function scriptedDialog(...lines: readonly string[]) {
  const asked: string[] = [];
  const left = [...lines];
  let closed = false;
  const open = (): Dialog => ({
    ask(question) {
      asked.push(question);
      return Promise.resolve(left.shift() ?? null);
    },
    close() {
      closed = true;
    },
  });
  return { open, asked, closed: () => closed };
}
