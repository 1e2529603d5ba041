import type { ReviewFinding } from './types.ts';

/** Every finding that a review makes by itself, and how much it weighs; docs/review.md explains each. */
export const reviewCodes = {
  'not-interchangeable': 'error',
  'interchange-undecided': 'ask',
  'part-not-compared': 'warning',
  'sign-off-lapses': 'warning',
  'vetting-unread': 'ask',
  'vetting-rewritten': 'error',
  'author-dropped': 'error',
  'license-changed': 'warning',
  'variant-removed': 'warning',
  'policy-changed': 'warning',
  'advisory-changed': 'warning',
  'other-files': 'note',
} as const satisfies Record<string, ReviewFinding['severity']>;

export type ReviewCode = keyof typeof reviewCodes;
