import {
  readDocument,
  type EvidenceDocument,
  type Problem,
  type ReadDocument,
  type SignoffDocument,
} from '@kinprint/manifest';
import { registryDefaults } from '../defaults.ts';
import { readTextFile } from '../state/read-text.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';

/** A file below `vetting` that is to be used. */
export type VettingRecord =
  | { readonly kind: 'signoff'; readonly value: SignoffDocument }
  | { readonly kind: 'evidence'; readonly value: EvidenceDocument };

export interface VettingFile {
  /** null for what is no YAML file, and for what has errors. */
  readonly record: VettingRecord | null;
  /** Errors of a YAML file: nothing else is written in YAML there. */
  readonly problems: readonly Problem[];
  /** What was read, for placing findings; null where the file cannot be read. */
  readonly document: ReadDocument<'signoff' | 'evidence'> | null;
}

/** Reads a file below `vetting`: a sign-off, a record of evidence, or neither, and then why. */
export async function readVetting(files: RegistryFiles, ref: FileRef): Promise<VettingFile> {
  // What is no regular file is told with all files.
  if (!ref.path.endsWith('.yaml') || ref.problem !== null)
    return { record: null, problems: [], document: null };
  const { text, problem } = await readTextFile(files, ref, registryDefaults.maxDocumentBytes);
  if (text === null) return { record: null, problems: problem === null ? [] : [problem], document: null };
  // What calls itself evidence is told what evidence lacks.
  if (/^kinprint:\s*['"]?evidence\b/m.test(text)) {
    const document = readDocument('evidence', text, ref.path);
    const { value, problems } = document;
    return { record: value === null ? null : { kind: 'evidence', value }, problems, document };
  }
  const document = readDocument('signoff', text, ref.path);
  const { value, problems } = document;
  return { record: value === null ? null : { kind: 'signoff', value }, problems, document };
}

/** What a file below `vetting` holds; null where it is no record or cannot be read, which the checks tell. */
export async function vettingRecord(files: RegistryFiles, ref: FileRef): Promise<VettingRecord | null> {
  return (await readVetting(files, ref)).record;
}

/** The variant that a file below `vetting` is about, by its folder: `device/variant`. */
export function vettedAddress({ path }: Pick<FileRef, 'path'>): string | null {
  return /^vetting\/([^/]+\/[^/]+)\/[^/]+\/./.exec(path)?.[1] ?? null;
}
