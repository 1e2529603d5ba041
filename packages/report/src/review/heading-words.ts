import type { Review, VariantReview } from '@kinprint/registry';
import { comparesTwo } from './compares-two.ts';

/**
 * The headings of a review, in the order in which every output has them: page, terminal, Markdown, and what a contributor
 * reads before. What has nothing to tell is left out, with its heading.
 */
export const reviewHeadings = {
  blocking: 'In the way',
  /** Of each variant. */
  parts: 'Parts',
  hardware: 'Hardware changed',
  manifest: 'Manifest changed',
  derivations: 'Derived from',
  vetting: 'Sign-offs and evidence',
  descendants: 'Variants made from it',
  /** After the variants. */
  files: 'Other files',
} as const;

/** Above what follows for somebody who has the device; stands before the parts. */
export function ownersHeading({ change, against }: Pick<VariantReview, 'change' | 'against'>): string {
  return `If you already have ${change === 'added' && against !== null ? against.address : 'it'}`;
}

/** Above the findings that stand not in the way: the last of all. */
export function findingsHeading(review: Review): string {
  return review.counts.blocking > 0 && !comparesTwo(review) ? 'Other findings' : 'Findings';
}
