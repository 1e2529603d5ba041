import { createInterface } from 'node:readline';
import type { Dialog } from './io.ts';

/**
 * A conversation over two streams. The terminal does the editing of a line and its echo; a line typed ahead answers
 * the next question.
 *
 * @param say writes to the person
 */
export function openDialog(input: NodeJS.ReadableStream, say: (text: string) => void): Dialog {
  const reader = createInterface({ input, terminal: false });
  const typed: string[] = [];
  let waiting: ((line: string | null) => void) | null = null;
  let ended = false;
  reader.on('line', line => {
    if (waiting === null) typed.push(line);
    else waiting(line);
  });
  reader.on('close', () => {
    ended = true;
    waiting?.(null);
  });
  return {
    ask(question) {
      say(question);
      const line = typed.shift();
      if (line !== undefined) return Promise.resolve(line);
      if (ended) return Promise.resolve(null);
      return new Promise(resolve => {
        waiting = answer => {
          waiting = null;
          // What comes next must not stand in the line of the question.
          if (answer === null) say('\n');
          resolve(answer);
        };
      });
    },
    close() {
      reader.close();
      input.pause();
    },
  };
}
