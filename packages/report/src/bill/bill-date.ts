import type { Bill } from '@kinprint/registry';

/** The date of the revision, else the newest in its lineage: what a document bears that is always the same; null without any. */
export function billDate({ revisions }: Bill): string | null {
  const [main, ...older] = revisions;
  return main.date ?? older.flatMap(({ date }) => date ?? []).reduce<string | null>(newer, null);
}

function newer(a: string | null, b: string): string {
  return a === null || b > a ? b : a;
}
