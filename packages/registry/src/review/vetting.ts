import { readDocument, type Digest } from '@kinprint/manifest';
import { registryDefaults } from '../defaults.ts';
import { inputOrNull } from '../input-or-null.ts';
import type { RegistryState } from '../state/types.ts';
import type { EvidenceReview, SignoffReview } from './types.ts';

export interface Vetting {
  readonly signoffs: readonly SignoffReview[];
  readonly evidence: readonly EvidenceReview[];
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
  for (const state of states)
    for (const ref of state.vetting) {
      if (!ref.path.startsWith(`vetting/${address}/`) || !ref.path.endsWith('.yaml') || ref.problem !== null)
        continue;
      // A file that cannot be read is told with the files.
      const bytes = await inputOrNull(() => state.files.bytes(ref, registryDefaults.maxDocumentBytes + 1));
      if (bytes === null) continue;
      const text = Buffer.from(bytes).toString();
      const signoff = readDocument('signoff', text, ref.path).value;
      if (signoff !== null) {
        const stands = stateOf(signoff.digest, digests);
        const { role, by, date, decision, digest } = signoff;
        if (stands !== null)
          signoffs.set(ref.path, { file: ref.path, role, by, date, decision, digest, state: stands });
        continue;
      }
      const trial = readDocument('evidence', text, ref.path).value;
      const stands = trial === null ? null : stateOf(trial.digest, digests);
      if (trial !== null && stands !== null)
        evidence.set(ref.path, {
          file: ref.path,
          kind: trial.kind,
          by: trial.by,
          date: trial.date,
          state: stands,
        });
    }
  const byDate = (a: { date: string; file: string }, b: { date: string; file: string }): number =>
    a.date < b.date ? -1 : a.date > b.date ? 1 : a.file < b.file ? -1 : 1;
  return { signoffs: [...signoffs.values()].sort(byDate), evidence: [...evidence.values()].sort(byDate) };
}

function stateOf(
  digest: string,
  { before, after }: { readonly before: Digest | null; readonly after: Digest | null },
): 'lapses' | 'stands' | null {
  if (digest === after) return 'stands';
  return digest === before ? 'lapses' : null;
}
