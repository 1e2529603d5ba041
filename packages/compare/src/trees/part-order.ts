import { byText } from './edit-distance.ts';
import type { PartComparison, PartVerdict, TreeTotals } from './types.ts';

/** The order in which parts are listed: what needs a look first, what did not change last. */
export const verdictOrder: readonly PartVerdict[] = [
  'failed',
  'unreadable',
  'unsound',
  'replaced',
  'reworked',
  'rescaled',
  'mirrored',
  'moved',
  'removed',
  'added',
  'same-shape',
  'identical',
];

/** Changed parts first, then by path. */
export function byChange(a: PartComparison, b: PartComparison): number {
  return (
    verdictOrder.indexOf(a.verdict) - verdictOrder.indexOf(b.verdict) ||
    byText(a.after ?? a.before ?? '', b.after ?? b.before ?? '') ||
    byText(a.before ?? '', b.before ?? '')
  );
}

/** How many parts have each verdict. */
export function treeTotals(parts: readonly PartComparison[]): TreeTotals {
  const totals = { parts: parts.length } as Record<PartVerdict | 'parts', number>;
  for (const verdict of verdictOrder) totals[verdict] = 0;
  for (const part of parts) totals[part.verdict]++;
  return totals;
}
