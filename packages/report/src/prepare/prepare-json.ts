import type { AddedLine, Preparation } from '@kinprint/registry';
import { reviewJson } from '../review/review-json.ts';

/** `kinprint prepare --json`; its schema stands in `schemas/output/prepare.schema.json`. */
export function prepareJson(preparation: Preparation, added: readonly AddedLine[]): object {
  return {
    schema: 'kinprint:output/prepare/1',
    ...preparation,
    review: reviewJson(preparation.review),
    added,
  };
}
