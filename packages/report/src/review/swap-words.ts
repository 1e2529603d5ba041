import type { Aspect, Interchange, Reason } from '@kinprint/fit';
import type { Step, VariantReview } from '@kinprint/registry';

/** Of one part, or in a table. */
export const answerWords: Readonly<Record<Interchange['answer'], string>> = {
  yes: 'swap',
  no: 'do not swap',
  ask: 'undecided',
};

/** Where nothing else is asked. */
export const swapTitles: Readonly<Record<Interchange['answer'], string>> = {
  yes: 'They swap',
  no: 'They do not all swap',
  ask: 'A person must say whether they swap',
};

const aspectWord: Readonly<Record<Aspect, string>> = {
  same: 'same',
  changed: 'changed',
  unknown: 'undecided',
};

/** Form, fit and function with a word each. Function is never seen in files: it must be shown. */
export function aspects({
  form,
  fit,
  function: use,
}: Interchange): readonly (readonly [keyof Omit<Interchange, 'answer' | 'reasons'>, string])[] {
  return [
    ['form', aspectWord[form]],
    ['fit', aspectWord[fit]],
    ['function', use === 'unknown' ? 'to be shown' : aspectWord[use]],
  ];
}

/** `form changed, fit same, function to be shown`. */
export function aspectWords(interchange: Interchange): string {
  return aspects(interchange)
    .map(each => each.join(' '))
    .join(', ');
}

/** Whether something was compared: a variant that is taken away, or that came from nothing, has no old and new. */
export function hasAnswer({ change, against, parts }: VariantReview): boolean {
  return change !== 'removed' && against !== null && parts.length > 0;
}

/** Whether old and new swap, as a sentence; null where nothing was compared. */
export function swapSentence(variant: VariantReview): string | null {
  const { change, against, interchange } = variant;
  if (!hasAnswer(variant)) return null;
  const parts =
    change === 'added' && against !== null
      ? `Its parts and those of ${against.address}`
      : 'Old and new parts';
  switch (interchange.answer) {
    case 'yes':
      return `${parts} swap both ways, as far as files tell.`;
    case 'no':
      return `${parts} do not all swap.`;
    case 'ask':
      return `${parts}: a person must say whether they swap.`;
  }
}

/** A reason that is told: one that `says` keeps nothing from swapping. */
export type ToldReason = Reason & { readonly weight: 'breaks' | 'ask' };

/** Reasons worth a line each; that a part came or went, its verdict says already. */
export function toldReasons({ reasons }: Interchange): ToldReason[] {
  return reasons.filter(
    (each): each is ToldReason =>
      each.weight !== 'says' && each.code !== 'part-added' && each.code !== 'part-removed',
  );
}

/** Reasons of the whole worth a line each; what must be bought has a list of its own. */
export function wholeReasons({ reasons, ...rest }: Interchange): ToldReason[] {
  return toldReasons({ ...rest, reasons: reasons.filter(({ code }) => !code.startsWith('hardware-')) });
}

/** `breaks fit`, `asks about function`. */
export function weightWords({ weight, aspect }: ToldReason): string {
  return weight === 'breaks' ? `breaks ${aspect}` : `asks about ${aspect}`;
}

/** What the rule of form, fit and function asks for; null where nothing is to be done. */
export function stepSentence(
  step: Step,
  { change, letter }: Pick<VariantReview, 'change' | 'letter'>,
): string | null {
  switch (step) {
    case 'none':
      return change === 'changed' ? 'No design changed; recording a letter is enough.' : null;
    case 'letter':
      if (letter.after !== null) return null;
      return change === 'added'
        ? 'Record its first letter once it is taken.'
        : 'Record the next letter once it is taken.';
    case 'variant':
      return 'By the rule of form, fit and function this is another item: derive a variant for it.';
    case 'person':
      return 'Say whether it is the next letter or a variant of its own, and record the next letter only then.';
  }
}
