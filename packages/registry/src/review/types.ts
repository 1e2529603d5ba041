import type { AssemblyComparison } from '../assembly/types.ts';
import type { Comparison, Pairing, PartProblem, PartVerdict } from '@kinprint/compare';
import type { Interchange } from '@kinprint/fit';
import type { Derivation, Digest, Interface } from '@kinprint/manifest';
import type { Unit, Vec3 } from '@kinprint/mesh';

/** What a change brings, for who decides about it. Plain data; keys are those of `kinprint review --json`. */
export interface Review {
  /** The registry's name. */
  readonly registry: string;
  readonly before: ReviewedState;
  readonly after: ReviewedState;
  /**
   * Commits on AFTER's branch, and those that only the other branch has since they parted; null without both commits. Where
   * they share none, BEFORE is taken as it is.
   */
  readonly commits: { readonly after: number; readonly elsewhere: number; readonly shared: boolean } | null;
  readonly decision: Decision;
  /** Changed variants first, then added, then removed ones; each in the order of addresses. */
  readonly variants: readonly VariantReview[];
  /** Files that belong to no variant: the registry's own, evidence, whatever else the commits touch. */
  readonly files: readonly FileChange[];
  /** The blocking ones first, then by severity. */
  readonly findings: readonly ReviewFinding[];
  readonly counts: ReviewCounts;
}

export interface ReviewedState {
  /** As it was named: a revision, a folder, a variant with its letter. */
  readonly name: string;
  readonly commit: string | null;
}

/**
 * `blocked`: findings that the policy blocks on. `ask`: something a person must decide. `clear`: nothing speaks against
 * it. `nothing`: there is no change.
 */
export type Decision = 'blocked' | 'ask' | 'clear' | 'nothing';

export interface ReviewCounts {
  readonly blocking: number;
  readonly errors: number;
  readonly warnings: number;
  readonly asks: number;
  readonly notes: number;
}

export interface FileChange {
  /** From the repository's root. */
  readonly path: string;
  readonly change: 'added' | 'removed' | 'changed';
  readonly kind: FileKind;
}

/** What a file of no changed variant is to the registry; `other` also where it cannot be read. */
export type FileKind = 'registry' | 'device' | 'signoff' | 'evidence' | 'advisory' | 'other';

export interface ReviewFinding {
  /** Who found it: the review itself, the checks, the license audit. */
  readonly origin: 'review' | 'check' | 'audit';
  readonly code: string;
  readonly severity: 'error' | 'warning' | 'ask' | 'note';
  /** Whether the policy blocks on it. */
  readonly blocks: boolean;
  readonly text: string;
  readonly remedy: string;
  readonly variant: string | null;
  readonly part: string | null;
  /** From the registry's root; null where no file is at fault. */
  readonly file: string | null;
  readonly line: number | null;
  readonly column: number | null;
}

/** What became of one variant. */
export interface VariantReview {
  readonly address: string;
  readonly title: string;
  readonly change: 'changed' | 'added' | 'removed';
  /** What its parts were compared with: itself as it was, or for an added variant what it says it came from. */
  readonly against: Against | null;
  readonly digest: { readonly before: Digest | null; readonly after: Digest | null };
  /** The letter of the content on each side; null where it is not recorded. */
  readonly letter: { readonly before: string | null; readonly after: string | null };
  readonly interchange: Interchange;
  /** What the trade's rule asks for. */
  readonly step: Step;
  readonly parts: readonly PartReview[];
  /** How the placed parts stand to each other; null where that cannot be compared, as with several parents. */
  readonly assembly: AssemblyComparison | null;
  readonly hardware: readonly HardwareChange[];
  /** What the manifest says otherwise, a line each. */
  readonly manifest: readonly string[];
  readonly derivations: readonly DerivationChange[];
  readonly reprint: readonly Reprint[];
  readonly signoffs: readonly SignoffReview[];
  /** Trials and inspections of the digest before, which say nothing of the new one. */
  readonly evidence: readonly EvidenceReview[];
  /** Records of it that cannot be read. */
  readonly vetting_unread: readonly string[];
  /** Addresses of variants that were made from it, in any number of steps. */
  readonly descendants: readonly string[];
}

export interface Against {
  readonly address: string;
  readonly letter: string | null;
  /** null where it is the variant itself. */
  readonly relation: Derivation['relation'] | null;
}

/**
 * `none`: no design changed. `letter`: record the next letter. `variant`: the old address keeps what it means; derive
 * another variant. `person`: somebody must say which of the two.
 */
export type Step = 'none' | 'letter' | 'variant' | 'person';

export interface PartReview {
  /** The id AFTER gives it; that of BEFORE where the part is gone. */
  readonly id: string;
  readonly title: string | null;
  /** The id BEFORE gives it; null for an added one. */
  readonly was: string | null;
  readonly pairing: Pairing;
  readonly verdict: PartVerdict;
  /** null for the same content, for added and removed parts, and where there is a problem. */
  readonly comparison: Comparison | null;
  readonly problem: PartProblem | null;
  /** Path from the registry's root, and the unit it is read in; null on the side that has none. */
  readonly mesh: { readonly before: PartMesh | null; readonly after: PartMesh | null };
  /** For the density of its material. */
  readonly mass_g: { readonly before: number | null; readonly after: number | null };
  readonly interfaces: readonly InterfaceReview[];
  readonly interchange: Interchange;
}

export interface PartMesh {
  readonly path: string;
  readonly unit: Unit | null;
  readonly sha256: string | null;
}

/**
 * `kept`; `differs`: of another size than before allowed; `moved`; `gone`; `added`; `unmeasured`: the mesh does not tell.
 */
export type InterfaceState = 'kept' | 'differs' | 'moved' | 'gone' | 'added' | 'unmeasured';

export interface InterfaceReview {
  readonly id: string;
  readonly kind: Interface['kind'];
  readonly state: InterfaceState;
  readonly mates: string | null;
  readonly declared: { readonly before: DeclaredSize | null; readonly after: DeclaredSize | null };
  /** As measured: across the flats of a bore, through the corners of a pin, between the sides of a slot. */
  readonly measured_mm: { readonly before: number | null; readonly after: number | null };
  /** Where AFTER has it; BEFORE where it is gone. */
  readonly at_mm: Vec3 | null;
  /** How far its axis moved across itself, in the frame of AFTER; null where it cannot be told. */
  readonly moved_mm: number | null;
}

export interface DeclaredSize {
  readonly nominal_mm: number;
  readonly plus_mm: number;
  readonly minus_mm: number;
}

export interface HardwareChange {
  readonly id: string;
  readonly change: 'added' | 'removed' | 'changed';
  /** `M3 × 25 ISO 4762, 1 piece`; null on the side that has none. */
  readonly before: string | null;
  readonly after: string | null;
}

export interface DerivationChange {
  readonly from: string;
  readonly relation: Derivation['relation'];
  readonly changes: string | null;
  readonly change: 'added' | 'removed' | 'same';
}

/**
 * What somebody who has the device as it was must do to have it as it is now.
 *
 * `keep`: nothing. `may-keep`: old and new swap, so whoever wants. `reprint`: the old one does not go with the new rest;
 * `with` names what it must be exchanged together with. `print`: it is new. `put-away`: it is no longer used. `ask`.
 */
export interface Reprint {
  readonly part: string;
  readonly quantity: number;
  readonly what: 'keep' | 'may-keep' | 'reprint' | 'print' | 'put-away' | 'ask';
  readonly with: readonly string[];
  readonly why: string;
}

export interface SignoffReview {
  readonly file: string;
  readonly role: string;
  readonly by: string;
  readonly date: string;
  readonly decision: 'accept' | 'accept-with-conditions' | 'reject';
  readonly digest: Digest;
  /** `lapses`: it stands on the digest before. `stands`: on the digest after. */
  readonly state: 'lapses' | 'stands';
}

export interface EvidenceReview {
  readonly file: string;
  readonly kind: string;
  readonly by: string;
  readonly date: string;
  readonly state: 'lapses' | 'stands';
}
