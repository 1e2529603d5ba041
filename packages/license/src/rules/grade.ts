import type { Answer, Verdict } from './types.ts';

const grades: Readonly<Record<Answer, number>> = {
  permitted: 0,
  'not-recommended': 1,
  ask: 2,
  'not-permitted': 3,
};

/** Negative when `a` is better than `b`. */
export function compareAnswers(a: Answer, b: Answer): number {
  return grades[a] - grades[b];
}

/** The best verdict, the first of equals. @throws Error for none */
export function best<T extends Verdict>(verdicts: readonly T[]): T {
  return pick(verdicts, (a, b) => compareAnswers(a.answer, b.answer) < 0);
}

/** The worst verdict, the first of equals. @throws Error for none */
export function worst<T extends Verdict>(verdicts: readonly T[]): T {
  return pick(verdicts, (a, b) => compareAnswers(a.answer, b.answer) > 0);
}

function pick<T>(all: readonly T[], beats: (a: T, b: T) => boolean): T {
  if (all.length === 0) throw new Error('There is no verdict to choose from.');
  return all.reduce((kept, next) => (beats(next, kept) ? next : kept));
}
