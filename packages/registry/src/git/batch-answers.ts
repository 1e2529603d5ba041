import type { OpenSource } from '../snapshot/types.ts';
import type { Collector } from './collect.ts';
import type { GitObject, ObjectType } from './objects.ts';

/** Takes the output of `git cat-file --batch` piece by piece and hands over one object after another. */
export interface BatchAnswers {
  /** @throws Error when the output is none that git documents */
  take(piece: Uint8Array): void;
  /** Gives up what has arrived of an unfinished object. */
  abandon(): void;
}

/**
 * Reads the output format of `git cat-file --batch` (git-cat-file manual, BATCH OUTPUT): a line `id type size`, the
 * content, a line end; or a line `id missing`.
 *
 * @param collect gives the collector for an object of so many bytes
 */
export function batchAnswers(
  collect: (size: number) => Collector,
  deliver: (object: GitObject) => void,
): BatchAnswers {
  let line = '';
  let type: ObjectType | null = null;
  let left = 0;
  let collector: Collector | null = null;

  function header(): void {
    const words = line.split(' ');
    line = '';
    if (words.length === 2 && words[1] === 'missing') return deliver({ state: 'missing' });
    const size = Number(words[2]);
    if (words.length !== 3 || !isType(words[1]) || !Number.isSafeInteger(size) || size < 0)
      throw new Error(`git cat-file answered with an unknown line: ${words.join(' ').slice(0, 200)}`);
    type = words[1];
    left = size;
    collector = collect(size);
  }

  function finish(): void {
    const content: OpenSource = collector!.finish();
    collector = null;
    deliver({ state: 'found', type: type!, content });
  }

  return {
    take(piece) {
      for (let at = 0; at < piece.length;) {
        if (collector === null) {
          const end = piece.indexOf(0x0a, at);
          line += Buffer.from(piece.subarray(at, end < 0 ? piece.length : end)).toString('latin1');
          if (end < 0) return;
          at = end + 1;
          header();
        } else if (left > 0) {
          const part = piece.subarray(at, at + left);
          collector.add(part);
          left -= part.length;
          at += part.length;
        } else {
          at += 1; // the line end after the content
          finish();
        }
      }
    },
    abandon() {
      collector?.abandon();
      collector = null;
    },
  };
}

function isType(word: string | undefined): word is ObjectType {
  return word === 'blob' || word === 'tree' || word === 'commit' || word === 'tag';
}
