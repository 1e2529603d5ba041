import type { Review } from '@kinprint/registry';

/** `kinprint review --json`; its schema stands in `schemas/output/review.schema.json`. */
export function reviewJson(review: Review): object {
  return { schema: 'kinprint:output/review/1', ...review };
}
