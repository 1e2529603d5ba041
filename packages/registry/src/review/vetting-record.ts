import { readDocument, type EvidenceDocument, type SignoffDocument } from '@kinprint/manifest';
import { registryDefaults } from '../defaults.ts';
import { inputOrNull } from '../input-or-null.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';

/** A file below `vetting` that is to be used. */
export type VettingRecord =
  | { readonly kind: 'signoff'; readonly value: SignoffDocument }
  | { readonly kind: 'evidence'; readonly value: EvidenceDocument };

/** What a file below `vetting` holds; null where it is no record or cannot be read, which is told with the files. */
export async function vettingRecord(files: RegistryFiles, ref: FileRef): Promise<VettingRecord | null> {
  if (!ref.path.endsWith('.yaml') || ref.problem !== null) return null;
  const bytes = await inputOrNull(() => files.bytes(ref, registryDefaults.maxDocumentBytes + 1));
  if (bytes === null) return null;
  const text = Buffer.from(bytes).toString();
  const signoff = readDocument('signoff', text, ref.path).value;
  if (signoff !== null) return { kind: 'signoff', value: signoff };
  const evidence = readDocument('evidence', text, ref.path).value;
  return evidence === null ? null : { kind: 'evidence', value: evidence };
}
