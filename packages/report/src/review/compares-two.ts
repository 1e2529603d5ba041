import type { Review } from '@kinprint/registry';

/** Whether two variants were looked at beside each other: nothing is sent, so nothing stands in its way. */
export function comparesTwo({
  before,
  commits,
  variants,
}: Pick<Review, 'before' | 'commits' | 'variants'>): boolean {
  return before.commit === null && commits === null && variants.length === 1;
}
