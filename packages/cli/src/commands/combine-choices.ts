import type { VariantChoices } from '@kinprint/registry';
import { InputError } from '@kinprint/mesh';

type Take = NonNullable<VariantChoices['all']>;

/**
 * What `--take` says: one word for all conflicts, or `KEY=WORD` for single ones; both go together.
 *
 * @throws InputError `take-bad`
 */
export function readChoices(words: readonly string[]): VariantChoices {
  let all: Take | null = null;
  const single: [string, Take][] = [];
  for (const word of words) {
    const [, key, take] = /^(?:([^=]{1,300})=)?(a|b|both|none)$/.exec(word) ?? [];
    if (take === undefined)
      throw new InputError(
        'take-bad',
        `--take does not know '${word}'.`,
        'Say a, b, both or none for all conflicts, or for single ones: --take 1=a,2=both.',
      );
    if (key === undefined) all = take as Take;
    else single.push([key, take as Take]);
  }
  return { all, single: Object.fromEntries(single) };
}
