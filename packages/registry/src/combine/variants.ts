import type { Combination, CombineMeshOptions } from '@kinprint/compare';
import type { Take } from '@kinprint/solid';
import type { Parent } from '../derive/derive.ts';

/** The three revisions: what both came from, and both. */
export interface Revisions {
  readonly base: Parent;
  readonly a: Parent;
  readonly b: Parent;
}

/** What to take where both changed the same: for all such places, or by key. */
export interface VariantChoices {
  readonly all: Take | null;
  /** `shell:1` for a conflict in the mesh of part `shell`, else the key of a conflict in manifest or files. */
  readonly single: Readonly<Record<string, Take>>;
}

export interface CombineVariantsRequest {
  /** `device/variant@B`; without a letter the last one. */
  readonly base: string;
  readonly a: string;
  readonly b: string;
  /** `device/variant`, or a variant's name alone for the same device. */
  readonly to: string;
  readonly title?: string;
  readonly choices: VariantChoices;
  readonly mesh: CombineMeshOptions;
}

/**
 * Where a part's mesh comes from.
 *
 * - `base`: neither changed it. `a`, `b`: only that side did, or has it.
 * - `both`: both have the same new one.
 * - `combined`: both changed it, and the solids were combined.
 */
export type PartOrigin = 'base' | 'a' | 'b' | 'both' | 'combined';

export interface CombinedPart {
  readonly id: string;
  readonly from: PartOrigin;
  /** Of a part that both changed. */
  readonly combination: Combination | null;
}

/** A place of the manifest, or a file, that both changed, each in its own way. Values as JSON; null where it is gone. */
export interface DocumentConflict {
  readonly key: string;
  readonly base: unknown;
  readonly a: unknown;
  readonly b: unknown;
  /** null while nothing is chosen. */
  readonly take: Exclude<Take, 'both'> | null;
}

export interface CombineVariantsReport {
  readonly revisions: Readonly<
    Record<'base' | 'a' | 'b', { readonly address: string; readonly digest: string }>
  >;
  /** `device/variant` and folder of the new variant; null when nothing was written. */
  readonly written: { readonly address: string; readonly folder: string } | null;
  readonly parts: readonly CombinedPart[];
  readonly conflicts: readonly DocumentConflict[];
  /** What is left for a person to do, a sentence each. */
  readonly unsettled: readonly string[];
}
