import type { PartComparison } from '@kinprint/compare';
import { adoptDefaults } from '../adopt-defaults.ts';
import type { SourceFile, SourceState } from '../source/types.ts';

/** Consecutive states that make one revision: nothing but the first step into it changed anything. */
export interface Run {
  /** Indices of states. */
  readonly first: number;
  readonly last: number;
}

/**
 * Which states are revisions. A state whose files are those of the one before, but for meshes exported again in the
 * same shape, renamed files and a reworded README, is folded into it. A changed model or license is a revision.
 *
 * @param steps what changed from each state to the next, of the files looked at
 * @param belongs which files of a state are looked at
 */
export function foldStates(
  states: readonly SourceState[],
  steps: readonly (readonly PartComparison[])[],
  belongs: (file: SourceFile, state: number) => boolean,
  mostLetters: number = adoptDefaults.maxLetters,
): { readonly runs: readonly Run[]; readonly joined: number } {
  const runs: { first: number; last: number }[] = [];
  for (const [state, { files }] of states.entries()) {
    if (!files.some(file => file.kind === 'mesh' && file.problem === null && belongs(file, state))) {
      // Nothing to print: no revision, and what follows begins anew.
      continue;
    }
    const run = runs.at(-1);
    if (run !== undefined && run.last === state - 1 && isSame(state)) run.last = state;
    else runs.push({ first: state, last: state });
  }
  const joined = Math.max(0, runs.length - mostLetters);
  if (joined > 0) runs.splice(0, joined + 1, { first: runs[0].first, last: runs[joined].last });
  return { runs, joined };

  function isSame(state: number): boolean {
    const [old, now] = [state - 1, state].map(k => states[k].files.filter(file => belongs(file, k)));
    const [oldPaths, nowPaths] = [old, now].map(files => new Set(files.map(file => file.path)));
    return (
      contents(old) === contents(now) &&
      steps[state - 1]
        .filter(({ before, after }) => (after === null ? oldPaths.has(before ?? '') : nowPaths.has(after)))
        .every(
          part =>
            (part.verdict === 'identical' || part.verdict === 'same-shape') &&
            part.before !== null &&
            part.after !== null &&
            part.pairing !== 'copy',
        )
    );
  }
}

/** What models and licenses hold, in any order and under any name. */
function contents(files: readonly SourceFile[]): string {
  return files
    .filter(file => file.kind === 'model' || file.kind === 'license')
    .map(file => file.digest ?? file.path)
    .sort()
    .join(' ');
}
