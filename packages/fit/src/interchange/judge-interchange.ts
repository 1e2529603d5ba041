import type { Aspect, AspectName, Interchange, Reason, Weight } from './types.ts';

const order: readonly Weight[] = ['breaks', 'ask', 'says'];

/**
 * The trade's rule of form, fit and function: what can be swapped both ways everywhere keeps its number and gets its next
 * revision; what cannot gets another number. New for old alone is not enough (common practice, no source).
 */
export function judgeInterchange(reasons: readonly Reason[]): Interchange {
  const sorted = [...reasons].sort((a, b) => order.indexOf(a.weight) - order.indexOf(b.weight));
  const weights = new Set(sorted.map(({ weight }) => weight));
  return {
    answer: weights.has('breaks') ? 'no' : weights.has('ask') ? 'ask' : 'yes',
    form: aspect(sorted, 'form'),
    fit: aspect(sorted, 'fit'),
    function: aspect(sorted, 'function'),
    reasons: sorted,
  };
}

function aspect(reasons: readonly Reason[], name: AspectName): Aspect {
  const own = reasons.filter(reason => reason.aspect === name);
  if (own.some(({ weight }) => weight === 'breaks')) return 'changed';
  // What a shape bears is no more than a guess until it is shown: a changed form leaves its function open.
  if (own.some(({ weight, code }) => weight === 'ask' || code === 'to-be-shown-again')) return 'unknown';
  return name === 'form' && own.length > 0 ? 'changed' : 'same';
}

/** The answer for a whole: no stronger than that of any of its pieces. */
export function together(parts: readonly Interchange[], own: readonly Reason[] = []): Interchange {
  return judgeInterchange([...own, ...parts.flatMap(({ reasons }) => reasons)]);
}
