import { alternativesOf, mostAlternatives } from '../expression/alternatives.ts';
import { expressionText, termText, type Expression } from '../expression/tree.ts';
import { derived, memory } from '../rules/basis.ts';
import { choicesOf, type Choice } from '../rules/choices.ts';
import { compareAnswers, best, worst } from '../rules/grade.ts';
import { judgeAdaptation, judgeBlend, judgeCopy, type Judgement } from '../rules/judge.ts';
import type { Verdict } from '../rules/types.ts';
import type { Level } from './level.ts';

/** May a work under `to` hold what it holds of an older one under `from`? */
export function layerVerdict(from: Expression, to: Expression, level: Level, published: boolean): Judgement {
  switch (level) {
    case 'none':
      return {
        answer: 'permitted',
        why: 'It is the same work.',
        chosen: '',
        choice: false,
        ...derived('none', 'own work'),
      };
    case 'collected':
      return eachChoice(from, choice => choice.license.collect);
    case 'copied':
      return judgeCopy(from, to);
    case 'plain':
      return plain(judgeCopy(from, to), judgeAdaptation(from, to));
    case 'changed':
      return published ? judgeAdaptation(from, to) : eachChoice(from, keptVerdict);
  }
}

/** May what lies under these two be blended? The best pair of alternatives counts. */
export function blendVerdict(a: Expression, b: Expression): Verdict {
  const [left, right] = [alternativesOf(a), alternativesOf(b)];
  if (left === null || right === null) return bounded();
  return best(left.flatMap(x => right.map(y => worst(x.flatMap(s => y.map(t => judgeBlend(s, t)))))));
}

/** Both readings of a plain mirror image or rescaling; where they differ about permission, a person must decide. */
function plain(copy: Judgement, adaptation: Judgement): Judgement {
  const worse = compareAnswers(copy.answer, adaptation.answer) > 0 ? copy : adaptation;
  const other = worse === copy ? adaptation : copy;
  if (worse.answer !== 'not-permitted' || other.answer === 'not-permitted') return worse;
  const asWhat = worse === copy ? 'a copy' : 'an adaptation';
  return {
    ...worse,
    answer: 'ask',
    why: `Nobody has ruled whether a plain mirror image or rescaling is an adaptation. As ${asWhat} it would not be allowed: ${worse.why}`,
  };
}

/** A changed version that is shown to nobody. */
function keptVerdict({ license }: Choice): Verdict {
  const { may, why, ...basis } = license.adapt;
  return { answer: may === 'no' ? 'not-permitted' : 'permitted', why, ...basis };
}

function eachChoice(from: Expression, rule: (choice: Choice) => Verdict): Judgement {
  const alternatives = alternativesOf(from);
  if (alternatives === null) return { ...bounded(), chosen: expressionText(from), choice: true };
  return best(
    alternatives.map((terms): Judgement => ({
      ...worst(terms.map(term => best(choicesOf(term).map(rule)))),
      chosen: terms.map(termText).join(' AND '),
      choice: alternatives.length > 1,
    })),
  );
}

function bounded(): Verdict {
  return {
    answer: 'ask',
    why: `The license expression has more than ${mostAlternatives} alternatives.`,
    ...memory('none', 'a bound of this program'),
  };
}
