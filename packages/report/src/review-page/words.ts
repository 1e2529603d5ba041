import type { Decision, PartReview, Reprint, Review, ReviewFinding, Step } from '@kinprint/registry';
import { plural } from '../terminal/words.ts';

type Aspect = PartReview['interchange']['form'];
type Answer = PartReview['interchange']['answer'];
type Weight = PartReview['interchange']['reasons'][number]['weight'];

export const decisionWords: Readonly<Record<Decision, string>> = {
  blocked: 'Blocked',
  ask: 'A person must decide',
  clear: 'Nothing found speaks against it',
  nothing: 'No change',
};

/** Why the decision is what it is, in a sentence. */
export function decisionReason({ decision, counts }: Review): string {
  switch (decision) {
    case 'blocked':
      return `The registry's policy stops on ${plural(counts.blocking, 'finding')}.`;
    case 'ask':
      return `The files leave ${plural(counts.asks, 'question')} open that somebody who knows the device must answer.`;
    case 'clear':
      return 'No finding stops it and no question is open. Whether the device serves its user is still for a person to say.';
    case 'nothing':
      return 'Both states hold the same designs.';
  }
}

export const answerWords: Readonly<Record<Answer, string>> = {
  yes: 'Old and new may be swapped',
  no: 'Old and new are not interchangeable',
  ask: 'Whether old and new may be swapped, a person must say',
};

/** In a few letters, for a list. */
export const answerShort: Readonly<Record<Answer, string>> = {
  yes: 'may be swapped',
  no: 'not interchangeable',
  ask: 'to be asked',
};

export const aspectWords: Readonly<Record<Aspect, string>> = {
  same: 'same',
  changed: 'changed',
  unknown: 'must be shown',
};

/** Before a reason, and said in full for who cannot see it. */
export const weightMarks: Readonly<Record<Weight, readonly [string, string]>> = {
  breaks: ['✕', 'Speaks against swapping:'],
  ask: ['?', 'To be asked:'],
  says: ['·', ''],
};

export const stepWords: Readonly<Record<Step, string>> = {
  none: 'No design changed: no new letter.',
  letter: 'Record the next letter of this variant.',
  variant: 'Keep the old address for the old design, and derive another variant.',
  person: 'A person must say whether this is the next letter or another variant.',
};

export const reprintWords: Readonly<Record<Reprint['what'], string>> = {
  keep: 'keep',
  'may-keep': 'may keep, or print the new one',
  reprint: 'print again',
  print: 'print, it is new',
  'put-away': 'put away, no longer used',
  ask: 'ask the maintainer',
};

export const severityWords: Readonly<Record<ReviewFinding['severity'], string>> = {
  error: 'error',
  warning: 'warning',
  ask: 'question',
  note: 'note',
};
