import type { Comparison } from '@kinprint/compare';
import { isRecord } from '../cache/is-record.ts';

/** Whether what a cache holds looks like a comparison; only its outer form is looked at. */
export function isKeptComparison(value: unknown): value is Comparison {
  if (!isRecord(value)) return false;
  const c = value as Readonly<Record<keyof Comparison, unknown>>;
  const records = [
    c.before,
    c.after,
    c.alignment,
    c.volume,
    c.area,
    c.thinnest_wall,
    c.overhang,
    c.soundness,
    c.mass,
  ];
  return (
    typeof c.verdict === 'string' &&
    Number.isFinite(c.tolerance_mm) &&
    records.every(isRecord) &&
    (c.deviation === null || isRecord(c.deviation)) &&
    isRecord(c.features) &&
    [c.features['changed'], c.features['added'], c.features['removed'], c.regions, c.bodies, c.notes].every(
      list => Array.isArray(list) && list.every(isRecord),
    )
  );
}
