import type { Credits } from '@kinprint/license';

/** `kinprint credits --json`; its schema stands in `schemas/output/credits.schema.json`. */
export function creditsJson(credits: Credits): object {
  return { schema: 'kinprint:output/credits/1', ...credits };
}
