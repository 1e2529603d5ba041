import type { Review, VariantReview } from '@kinprint/registry';
import { partsTold } from './review-words.ts';
import { answerWords, aspectWords, hasAnswer } from './swap-words.ts';
import { againstWords, nothingLookedAt } from './variant-words.ts';

/** A variant in a line of a table: what every output says of it before it goes into details. */
export interface VariantRow {
  readonly address: string;
  /** `new, remix of cuff/right@B`. */
  readonly what: string;
  /** `form changed, fit same, function to be shown`; `cannot be judged` where no part could be looked at; empty where there is no old and new. */
  readonly aspects: string;
  /** `1 of 5`; a dash where no part could be looked at. */
  readonly changed: string;
  /** `do not swap`; otherwise as `aspects`. */
  readonly answer: string;
  /** How many findings on it stand in the way. */
  readonly inTheWay: number;
}

export const variantRowHeads = {
  address: 'Variant',
  what: 'What',
  aspects: 'Form, fit, function',
  changed: 'Parts changed',
  answer: 'Old and new',
  inTheWay: 'In the way',
} as const satisfies Record<keyof VariantRow, string>;

export function variantRow(variant: VariantReview, { findings }: Pick<Review, 'findings'>): VariantRow {
  const { address, interchange, parts } = variant;
  const compared = hasAnswer(variant);
  const unseen = nothingLookedAt(variant) !== null;
  const without = unseen ? 'cannot be judged' : '';
  return {
    address,
    what: againstWords(variant),
    aspects: compared ? aspectWords(interchange) : without,
    changed: unseen ? '—' : `${partsTold(parts).told.length} of ${parts.length}`,
    answer: compared ? answerWords[interchange.answer] : without,
    inTheWay: findings.filter(each => each.blocks && each.variant === address).length,
  };
}
