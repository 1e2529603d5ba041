import type { RevisionEntry } from '@kinprint/manifest';
import type { VariantState } from '../state/types.ts';

/** `cuff/left: revision B`, then the changes, a line each, then the digest. */
export function commitMessage(variant: VariantState, entry: RevisionEntry): string {
  const changes = (entry.changes ?? []).map(line => `- ${line}`);
  return [
    `${variant.address}: revision ${entry.letter}`,
    '',
    ...(changes.length === 0 ? [] : [...changes, '']),
    `Digest: ${entry.digest}`,
    '',
  ].join('\n');
}
