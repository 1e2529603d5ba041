import type { DeriveReport, RecordOutcome, StartReport, VariantPage } from '@kinprint/registry';

/** `kinprint show --json`; its schema stands in `schemas/output/show.schema.json`. */
export function showJson(page: VariantPage): object {
  return { schema: 'kinprint:output/show/1', ...page };
}

/** `kinprint start --json`. */
export function startJson(report: StartReport): object {
  return { schema: 'kinprint:output/start/1', ...report };
}

/** `kinprint derive --json`. */
export function deriveJson(report: DeriveReport): object {
  return { schema: 'kinprint:output/derive/1', ...report };
}

/** `kinprint record --json`. */
export function recordJson(outcome: RecordOutcome): object {
  return { schema: 'kinprint:output/record/1', ...outcome };
}
