import type { DocumentKind, Problem, ReadDocument } from '@kinprint/manifest';
import type { FileRef, RegistryFiles } from './registry-files.ts';

/** What one state of a registry says: its documents, read, and the files they speak of. */
export interface RegistryState {
  readonly files: RegistryFiles;
  /** null when there is no registry.yaml; `problems` says so. */
  readonly registry: ReadDocument<'registry'> | null;
  /** By folder name. */
  readonly devices: ReadonlyMap<string, DeviceState>;
  /** By address, `device/variant`; in the order of the addresses. */
  readonly variants: ReadonlyMap<string, VariantState>;
  /** By the file's name without its ending. */
  readonly advisories: ReadonlyMap<string, ReadDocument<'advisory'>>;
  /** Every file below `vetting`. */
  readonly vetting: readonly FileRef[];
  /** What is wrong with the layout; what is wrong within a document stands in that document. */
  readonly problems: readonly Problem[];
}

export interface DeviceState {
  readonly name: string;
  readonly folder: string;
  /** null when the folder has no device.yaml. */
  readonly document: ReadDocument<'device'> | null;
  /** Addresses. */
  readonly variants: readonly string[];
}

export interface VariantState {
  /** `device/variant`. */
  readonly address: string;
  readonly device: string;
  readonly variant: string;
  /** From the registry's root. */
  readonly folder: string;
  readonly document: ReadDocument<'variant'>;
  /** Everything in its folder but variant.yaml, sorted by path. */
  readonly files: readonly FileRef[];
}

/** How documents are read: by `readDocument`, or by something that remembers. */
export type DocumentReader = <K extends DocumentKind>(kind: K, text: string, file: string) => ReadDocument<K>;
