import type { Choices } from '@kinprint/compare';
import { InputError } from '@kinprint/mesh';

type Take = NonNullable<Choices['all']>;

/**
 * What `--take` says: one word for all conflicts, or `NUMBER=WORD` for single ones; both go together.
 *
 * @throws InputError `take-bad`
 */
export function readChoices(words: readonly string[]): Choices {
  let all: Take | null = null;
  const single: Record<number, Take> = {};
  for (const word of words) {
    const [, number, take] = /^(?:([1-9]\d{0,5})=)?(a|b|both|none)$/.exec(word) ?? [];
    if (take === undefined)
      throw new InputError(
        'take-bad',
        `--take does not know '${word}'.`,
        'Say a, b, both or none for all conflicts, or for single ones: --take 1=a,2=both.',
      );
    if (number === undefined) all = take as Take;
    else single[Number(number)] = take as Take;
  }
  return { all, single };
}
