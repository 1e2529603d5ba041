import type { Comparison } from '../comparison.ts';
import type { FileSummary } from './shape-summary.ts';
import type { BodyRef } from './gather-bodies.ts';
import type { EntryInfo, Pairing, PartComparison, PartProblem } from './types.ts';

/** Why something could not be done with a file: its own fault (`unreadable`) or ours (`failed`). */
export interface Trouble {
  readonly verdict: 'unreadable' | 'failed';
  readonly problem: PartProblem;
}

/** What comparing trees needs of the outside: reading and comparing files. Neither throws for what files hold. */
export interface TreeWork {
  /** Reads a file and says what pairing must know of it. */
  summarize(side: 'before' | 'after', path: string): Promise<FileSummary | Trouble>;
  /** Compares two files, or one body of each. */
  compare(before: BodyRef, after: BodyRef): Promise<Comparison | Trouble>;
}

/** Two entries on their way to a part. */
export interface Row {
  readonly before: EntryInfo | null;
  readonly after: EntryInfo | null;
  readonly pairing: Pairing;
  readonly bodies?: PartComparison['bodies'];
  /** null when nothing was compared: equal content, or no counterpart. */
  readonly outcome: Comparison | Trouble | null;
}

export function isTrouble(outcome: Comparison | FileSummary | Trouble): outcome is Trouble {
  return 'problem' in outcome;
}

/** The finished part. */
export function partOf(row: Row): PartComparison {
  const { before, after, pairing, outcome } = row;
  const base = {
    before: before?.path ?? null,
    after: after?.path ?? null,
    pairing,
    bodies: row.bodies ?? whole,
  };
  if (outcome === null) {
    const verdict = before === null ? 'added' : after === null ? 'removed' : 'identical';
    return { ...base, verdict, comparison: null, problem: null };
  }
  if (isTrouble(outcome))
    return { ...base, verdict: outcome.verdict, comparison: null, problem: outcome.problem };
  return { ...base, verdict: outcome.verdict, comparison: outcome, problem: null };
}

const whole = { before: null, after: null };
