import type { Review } from '../review/types.ts';

/** What a contributor wants to know before a change is sent. Plain data; keys are those of `kinprint prepare --json`. */
export interface Preparation {
  readonly base: PrepareBase;
  /** Whether nothing stands in the way by the registry's policy. */
  readonly ready: boolean;
  /** What a maintainer will see. */
  readonly review: Review;
  /** Variants that changed or are new; in the order of the review. */
  readonly variants: readonly PreparedVariant[];
}

/** What the change is counted from. */
export interface PrepareBase {
  /** As it was named, or found. */
  readonly name: string;
  /** Where HEAD left it. */
  readonly commit: string;
  /** Whether it was named rather than found. */
  readonly given: boolean;
  /** Whether HEAD is that commit, so that only what is not committed is looked at. */
  readonly uncommitted: boolean;
  /** False where the two share no commit, as far as history reaches: then it is compared with the base as it is. */
  readonly shared: boolean;
}

export interface PreparedVariant {
  readonly address: string;
  /** variant.yaml, from the registry's root. */
  readonly file: string;
  readonly title: string;
  readonly summary: string | null;
  /** Its own, or that of the registry; null where none holds for the whole. */
  readonly license: string | null;
  readonly authors: readonly string[];
  readonly parents: readonly PreparedParent[];
  readonly parts: readonly PreparedPart[];
  /** `M3 × 25 ISO 4762, 1 piece`, a line each. */
  readonly hardware: readonly string[];
  /** By line. */
  readonly missing: readonly MissingLine[];
}

export interface PreparedParent {
  /** As the derivation names it. */
  readonly from: string;
  readonly relation: string;
  readonly changes: string | null;
  /** null where it is not at hand. */
  readonly title: string | null;
  readonly license: string | null;
  readonly authors: readonly string[];
}

export interface PreparedPart {
  readonly id: string;
  readonly quantity: number;
  readonly material: string | null;
  /** Along x, y and z as it is stored; null where its mesh cannot be measured. */
  readonly size_mm: readonly [number, number, number] | null;
  /** Listed printers that take its box as it is to be printed, its sides along theirs; null where none is listed or it is not measured. */
  readonly printers: readonly string[] | null;
  /** Further ones that take its box with another axis up; its layers then lie otherwise. */
  readonly on_another_side: readonly { readonly printer: string; readonly up: 'x' | 'y' | 'z' }[];
}

export type MissingKind =
  | 'license'
  | 'authors'
  | 'summary'
  | 'derivation'
  | 'digest'
  | 'changes'
  | 'material'
  | 'print'
  | 'interfaces';

/** Lines that a manifest lacks, ready to be put in. */
export interface MissingLine {
  readonly kind: MissingKind;
  readonly part: string | null;
  readonly why: string;
  /** Whether nothing of it is left to a person: `--add` writes it. */
  readonly certain: boolean;
  /** From 1: what stands there now moves below. */
  readonly line: number;
  /** How many lines, from that one on, these stand in for; as a rule 0. */
  readonly replaces: number;
  /** Whole lines, as they are to stand in the file; without a line end after the last. */
  readonly text: string;
}
