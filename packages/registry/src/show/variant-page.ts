import type { Author, Derivation, Fit, Hardware, Part, Placement, RevisionEntry } from '@kinprint/manifest';
import type { Vec3 } from '@kinprint/mesh';
import type { Mate } from '../assembly/types.ts';

/** All that there is to say of a variant, or of one of its revisions. Keys are those of `kinprint show --json`. */
export interface VariantPage {
  /** `device/variant`. */
  readonly address: string;
  /** The letter that was asked for; null for the present content. */
  readonly letter: string | null;
  readonly registry: string | null;
  readonly device: { readonly title: string; readonly purpose: string } | null;
  readonly title: string;
  readonly summary: string | null;
  readonly license: string | null;
  /** Where the license is stated; null when none is, and all rights are reserved. */
  readonly license_from: 'variant' | 'registry' | null;
  readonly authors: readonly Author[];
  readonly derivations: readonly Derivation[];
  readonly parts: readonly PartLine[];
  readonly hardware: readonly Hardware[];
  /** What the hardware costs, by currency. */
  readonly costs: readonly Cost[];
  /** Hardware without a price: what it costs is not in the sums. */
  readonly without_cost: readonly string[];
  readonly assembly: readonly Placement[];
  /** Bores, slots and faces with what they take, as measured. */
  readonly clearances: readonly ClearanceLine[];
  readonly fit: Fit | null;
  /** Of the variant, its device and its materials, each once. */
  readonly cautions: readonly string[];
  readonly revisions: readonly RevisionEntry[];
  readonly standing: PageStanding;
  /** Of the content shown; null when it cannot be computed. */
  readonly digest: string | null;
  /** The commit that holds the revision asked for, or the state that was read; null for files in a folder. */
  readonly commit: string | null;
  /** Where its files are, or were, from the registry's root. */
  readonly folder: string;
}

export interface PartLine extends Part {
  readonly quantity: number;
  readonly size_mm: Vec3 | null;
  readonly volume_mm3: number | null;
  readonly triangles: number | null;
  /** Why it was not measured. */
  readonly problem: string | null;
}

export interface ClearanceLine {
  /** `part/interface`. */
  readonly seat: string;
  /** `part/interface` or `hardware/id`. */
  readonly takes: string;
  readonly declared: Mate['declared'];
  /** On the diameter or the width, or the gap of two faces as placed; null where it could not be measured. */
  readonly clearance_mm: number | null;
  readonly verdict: Mate['verdict'];
}

export interface Cost {
  readonly currency: string;
  readonly value: number;
}

export interface PageStanding {
  readonly status: 'unrecorded' | 'recorded' | 'changed' | 'unknown';
  /** The last letter. */
  readonly last: string | null;
  readonly reason: string | null;
  /** A letter that is on the branch and not yet in the manifest: its recording was interrupted. */
  readonly unfinished: string | null;
}
