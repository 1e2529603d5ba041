import type { Note, Unit } from '@kinprint/mesh';
import type { CommitInfo, Person } from '../source/types.ts';

/** What becomes of a directory or repository: everything that will be written, and what a person must still say. */
export interface AdoptPlan {
  readonly source: {
    readonly name: string;
    /** The last part of its path, which says nothing of the machine it lies on. */
    readonly folder: string;
    /** The newest commit looked at; null for a folder as it lies. */
    readonly commit: string | null;
    /** States that differ in a file that is taken. */
    readonly states: number;
  };
  readonly device: DevicePlan;
  readonly variants: readonly VariantPlan[];
  /** Most important first. */
  readonly questions: readonly Question[];
  /** Files that may be meshes and were not taken, with the reason. */
  readonly leftOut: readonly { readonly path: string; readonly why: string }[];
  /** Files of other kinds: pictures, documents. */
  readonly otherFiles: number;
  readonly notes: readonly Note[];
}

export interface DevicePlan {
  /** The name of its folder. */
  readonly id: string;
  readonly title: string;
  /** null when nothing says it. */
  readonly purpose: string | null;
  readonly cautions: readonly string[];
}

export interface VariantPlan {
  readonly id: string;
  readonly title: string;
  /** Oldest first, never empty. */
  readonly letters: readonly LetterPlan[];
}

/** One revision that will be recorded. */
export interface LetterPlan {
  /** Index of the source's first state that it stands for: letters of one state are recorded together. */
  readonly state: number;
  /** The commits of the source that it stands for, oldest first; empty for a folder as it lies. */
  readonly commits: readonly CommitInfo[];
  readonly license: string | null;
  readonly authors: readonly Person[];
  readonly derivations: readonly DerivationPlan[];
  readonly parts: readonly PartPlan[];
  /** All files of the variant's folder but variant.yaml. */
  readonly files: readonly FilePlan[];
  /** What changed since the letter before, a line each. */
  readonly changes: readonly string[];
}

export interface DerivationPlan {
  readonly variant: string;
  /** Which of that variant's letters, counted from 0. */
  readonly letter: number;
  readonly relation: 'mirror' | 'rescale';
  readonly changes: string;
  readonly unsettled: string;
}

export interface PartPlan {
  readonly id: string;
  readonly title: string | null;
  /** From the variant's folder. */
  readonly mesh: string;
  readonly source: readonly string[];
  readonly unit: Unit | null;
  readonly hand: 'left' | 'right' | 'both' | null;
  readonly license: string | null;
  readonly unsettled: string | null;
}

export interface FilePlan {
  /** Where the source has it. */
  readonly from: string;
  /** Index of the source's state that has this content. */
  readonly state: number;
  /** From the variant's folder. */
  readonly to: string;
}

/** What a person must say; in the order of `questionCodes`. */
export interface Question {
  readonly code: QuestionCode;
  /** Variant, and part in it, where it is about one. */
  readonly variant: string | null;
  readonly part: string | null;
  readonly text: string;
}

/** Most important first. */
export const questionCodes = [
  'license',
  'authors',
  'no-volume',
  'unit',
  'hand',
  'size',
  'derivation',
  'purpose',
  'cautions',
  'source',
  'same-content',
  'older-version',
  'several-bodies',
  'left-out',
] as const;
export type QuestionCode = (typeof questionCodes)[number];
