import type { Derivation, VariantDocument } from '@kinprint/manifest';
import type { RevisionContent } from '../history/history.ts';

export type DerivationRelation = Derivation['relation'];

/** A revision to derive from, with its content at hand. */
export interface Parent {
  /** As it is written in a derivation: `device/variant@B`, or `source:device/variant@B`. */
  readonly address: string;
  readonly digest: string;
  readonly content: RevisionContent;
  readonly manifest: VariantDocument;
  /** The license that the parent's own registry gives variants that name none; null where it gives none. */
  readonly registryLicense: string | null;
  /** Whether that registry is the one that is derived into. */
  readonly here: boolean;
}

/** A file of the new variant: taken over as it is, or made anew. */
export type DerivedFile =
  | { readonly path: string; readonly kind: 'copy'; readonly parent: Parent; readonly from: string }
  | { readonly path: string; readonly kind: 'bytes'; readonly bytes: Uint8Array };

/** A manifest in the making, with the remarks that tell a person what to settle. */
export interface Derived {
  readonly manifest: VariantDocument;
  /** By JSON pointer. */
  readonly comments: Readonly<Record<string, string>>;
  readonly files: readonly DerivedFile[];
  /** What is left for a person to do, a sentence each. */
  readonly unsettled: readonly string[];
}

export interface DeriveOptions {
  /** What the new variant is to the first parent. */
  readonly relation: DerivationRelation;
  /** For `rescale`. */
  readonly scale?: number;
  readonly title?: string;
}
