import { alternativesOf, mostAlternatives, type Alternative } from '../expression/alternatives.ts';
import { termText, type Expression, type Term } from '../expression/tree.ts';
import { adaptationVerdict } from './adaptation.ts';
import { memory } from './basis.ts';
import { choicesOf, type Choice } from './choices.ts';
import { combinationVerdict } from './combination.ts';
import { copyVerdict } from './copying.ts';
import { best, worst } from './grade.ts';
import type { Verdict } from './types.ts';

/** A verdict on expressions, and which alternative of the older work's it rests on. */
export interface Judgement extends Verdict {
  /** The alternative of the older work that was chosen, e.g. `GPL-3.0-only`. */
  readonly chosen: string;
  /** Whether there was a choice. */
  readonly choice: boolean;
}

type Rule = (from: Choice, to: Choice) => Verdict;

/**
 * May a changed version of a work under one expression be passed on under another? Of the older work's alternatives
 * the best counts; of the newer's all must do, as each is offered.
 */
export function judgeAdaptation(from: Expression, to: Expression): Judgement {
  return judge(from, to, adaptationVerdict, true);
}

/** Likewise for an unchanged copy. */
export function judgeCopy(from: Expression, to: Expression): Judgement {
  return judge(from, to, copyVerdict, false);
}

function judge(from: Expression, to: Expression, rule: Rule, blends: boolean): Judgement {
  const [older, newer] = [alternativesOf(from), alternativesOf(to)];
  if (older === null || newer === null) return tooMany();
  return best(
    older.map((alternative): Judgement => {
      const each = newer.map(offered => alternativeVerdict(alternative, offered, rule));
      const together = blends ? within(alternative) : [];
      const chosen = alternative.map(termText).join(' AND ');
      return { ...worst([...each, ...together]), chosen, choice: older.length > 1 };
    }),
  );
}

/** All licenses of the older alternative apply, so the worst counts. */
function alternativeVerdict(older: Alternative, offered: Alternative, rule: Rule): Verdict {
  return worst(
    older.map(term =>
      joined(
        offered.map(to => termVerdict(term, to, rule)),
        term,
      ),
    ),
  );
}

/** Of licenses that apply together, each may be for another part: where only some would do, a person must look. */
function joined(verdicts: readonly Verdict[], term: Term): Verdict {
  const low = worst(verdicts);
  if (low.answer !== 'not-permitted' || best(verdicts).answer === 'not-permitted') return low;
  return {
    ...low,
    answer: 'ask',
    why: `Several licenses apply together; which of them is for what comes from ${termText(term)}?`,
  };
}

/** The older work's version may be chosen; the newer's label offers every version that it names. */
function termVerdict(from: Term, to: Term, rule: Rule): Verdict {
  const older = choicesOf(from);
  return worst(choicesOf(to).map(offered => best(older.map(choice => rule(choice, offered)))));
}

/** An alternative of several licenses is a blend already; it is no better than its worst pair. */
function within(alternative: Alternative): Verdict[] {
  return alternative.flatMap((a, k) => alternative.slice(k + 1).map(b => judgeBlend(a, b)));
}

/** May works under these two be blended into one? The best pair of versions counts. */
export function judgeBlend(a: Term, b: Term): Verdict {
  return best(choicesOf(a).flatMap(x => choicesOf(b).map(y => combinationVerdict(x.license, y.license))));
}

function tooMany(): Judgement {
  return {
    answer: 'ask',
    why: `The license expression has more than ${mostAlternatives} alternatives.`,
    chosen: '',
    choice: true,
    ...memory('none', 'a bound of this program'),
  };
}
