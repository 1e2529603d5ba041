import type { Digest } from '@kinprint/manifest';
import type { RegistryState } from '../state/types.ts';
import type { EvidenceReview, SignoffReview } from './types.ts';
import { readVetting } from '../vetting/vetting-record.ts';

export interface Vetting {
  readonly signoffs: readonly SignoffReview[];
  readonly evidence: readonly EvidenceReview[];
  /** Files below its folder that cannot be read: nobody knows what they stand on. */
  readonly vetting_unread: readonly string[];
}

/**
 * The sign-offs and the evidence of a variant that stand on its content before or after. Each says something of one digest
 * alone: whatever changes the content leaves them behind.
 */
export async function vettingOf(
  states: readonly RegistryState[],
  address: string,
  digests: { readonly before: Digest | null; readonly after: Digest | null },
): Promise<Vetting> {
  const signoffs = new Map<string, SignoffReview>();
  const evidence = new Map<string, EvidenceReview>();
  const unread = new Set<string>();
  for (const state of states)
    for (const ref of state.vetting) {
      if (!ref.path.startsWith(`vetting/${address}/`)) continue;
      const { record, problems } = await readVetting(state.files, ref);
      if (record === null && problems.length > 0) unread.add(ref.path);
      const stands = record === null ? null : stateOf(record.value.digest, digests);
      if (record === null || stands === null) continue;
      const file = ref.path;
      const { by, date } = record.value;
      if (record.kind === 'signoff') {
        const { role, decision, digest } = record.value;
        signoffs.set(file, { file, role, by, date, decision, digest, state: stands });
      } else evidence.set(file, { file, kind: record.value.kind, by, date, state: stands });
    }
  const byDate = (a: { date: string; file: string }, b: { date: string; file: string }): number =>
    a.date < b.date ? -1 : a.date > b.date ? 1 : a.file < b.file ? -1 : 1;
  return {
    signoffs: [...signoffs.values()].sort(byDate),
    evidence: [...evidence.values()].sort(byDate),
    vetting_unread: [...unread].filter(file => !signoffs.has(file) && !evidence.has(file)),
  };
}

function stateOf(
  digest: string,
  { before, after }: { readonly before: Digest | null; readonly after: Digest | null },
): 'lapses' | 'stands' | null {
  if (digest === after) return 'stands';
  return digest === before ? 'lapses' : null;
}
