import type { CheckReport } from '@kinprint/registry';

/** `kinprint check --json`; its schema stands in `schemas/output/check.schema.json`. */
export function checkJson(report: CheckReport): object {
  return { schema: 'kinprint:output/check/1', ...report };
}
