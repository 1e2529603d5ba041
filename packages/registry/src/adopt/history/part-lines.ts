import type { PartComparison } from '@kinprint/compare';
import type { SourceFile, SourceState } from '../source/types.ts';
import { readableMeshes } from './lots.ts';

/** One part through the history, under whatever paths. */
export interface PartLine {
  /** Its place among the lines. */
  readonly key: number;
  /** The states that hold it, oldest first, without gaps. */
  readonly versions: readonly { readonly state: number; readonly file: SourceFile }[];
}

/** The first state that holds it. */
export function firstState(line: PartLine): number {
  return line.versions[0].state;
}

/** The last state that holds it. */
export function lastState(line: PartLine): number {
  return line.versions[line.versions.length - 1].state;
}

/** Its file in a state; null where that has none. */
export function fileAt(line: PartLine, state: number): SourceFile | null {
  return line.versions[state - firstState(line)]?.file ?? null;
}

/** The file at its latest. */
export function latest(line: PartLine): SourceFile {
  return line.versions[line.versions.length - 1].file;
}

/**
 * Follows each mesh back through the states: by path, by content, by shape, as the comparison paired them. Copies,
 * and pieces gathered on a plate or split off one, are lines of their own.
 *
 * @param steps what changed from each state to the next; one fewer than states
 * @returns parts that are there now first, by path; then those that are gone, the latest first
 */
export function partLines(
  states: readonly SourceState[],
  steps: readonly (readonly PartComparison[])[],
): PartLine[] {
  const lines: { state: number; file: SourceFile }[][] = [];
  let open = new Map<string, number>();
  for (let state = states.length - 1; state >= 0; state--) {
    const links = state === states.length - 1 ? [] : steps[state].filter(isLink);
    const next = new Map<string, number>();
    for (const { before, after } of links) {
      const line = after === null ? undefined : open.get(after);
      if (line !== undefined && before !== null) next.set(before, line);
    }
    for (const file of readableMeshes(states[state])) {
      let line = next.get(file.path);
      if (line === undefined) {
        line = lines.push([]) - 1;
        next.set(file.path, line);
      }
      lines[line].unshift({ state, file });
    }
    open = next;
  }
  return lines.map((versions, key) => ({ key, versions }));
}

function isLink({ pairing }: PartComparison): boolean {
  return pairing === 'path' || pairing === 'content' || pairing === 'shape';
}
