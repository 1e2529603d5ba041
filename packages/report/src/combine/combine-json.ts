import type { Combination } from '@kinprint/compare';
import type { CombineVariantsReport } from '@kinprint/registry';
import type { CombineNames } from './combine-text.ts';

/** `kinprint combine --json` for three mesh files; its schema stands in `schemas/output/combine.schema.json`. */
export function combineJson(names: CombineNames, combination: Combination, written: string | null): object {
  return { schema: 'kinprint:output/combine/1', files: { ...names, written }, ...combination };
}

/** `kinprint combine --json` for variants. */
export function combineVariantsJson(report: CombineVariantsReport): object {
  return { schema: 'kinprint:output/combine/1', ...report };
}
