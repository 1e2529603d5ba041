import type { Note, Soundness, Vec3 } from '@kinprint/mesh';
import type { ConflictKind, Remix, Take } from '@kinprint/solid';
import type { Alignment, Region } from '../comparison.ts';
import type { Tessellated } from './tessellated.ts';

/**
 * What becomes of a change.
 *
 * - `taken`: it goes into the result.
 * - `agreed`: the other remix made the very same change, which goes into the result.
 * - `left`: it was chosen to leave it out.
 * - `open`: it is in a conflict that nobody settled.
 */
export type Fate = 'taken' | 'agreed' | 'left' | 'open';

/** One connected piece of material that a remix added or removed. In the frame of the base. */
export interface CombinedChange extends Region {
  /** `a1`, `b2`: the remix and a number, largest first. */
  readonly id: string;
  readonly side: Remix;
  readonly fate: Fate;
  /** Number of the conflict it is in. */
  readonly conflict: number | null;
  /** The same change of the other remix. */
  readonly twin: string | null;
}

/** Changes of both remixes that touch without being the same. */
export interface CombineConflict {
  /** From 1 on, largest first. */
  readonly number: number;
  readonly kind: ConflictKind;
  /** Ids of the changes of each remix. */
  readonly changes: Readonly<Record<Remix, readonly string[]>>;
  readonly bounds_mm: { readonly min: Vec3; readonly max: Vec3 };
  /** Middle of the bounds. */
  readonly at_mm: Vec3;
  /** Material that both added, or both removed, here. */
  readonly overlap_mm3: number;
  /** Least distance between the changes of one and the other; 0 where they meet. */
  readonly gap_mm: number;
  /** What was chosen; null while nothing is. */
  readonly take: Take | null;
}

/** One of the three meshes. */
export interface CombineInput {
  readonly triangles: number;
  readonly bodies: number;
  readonly volume_mm3: number;
  readonly size_mm: Vec3;
}

export interface CombineRemix extends CombineInput {
  /** Motion into the frame of the base. */
  readonly alignment: Alignment;
  readonly added_mm3: number;
  readonly removed_mm3: number;
}

export interface CombineResult extends CombineInput {
  /** When it is one of the inputs, triangle for triangle (in the frame of the base): which. */
  readonly same_as: 'base' | Remix | null;
  /** Whether the changes went in up to rounding, or by way of surfaces a tolerance off and back. */
  readonly exact: boolean;
  readonly soundness: Soundness;
}

/** The finished result compared with what it was made from, knowing nothing of how it was made. */
export interface CombineProof {
  readonly holds: boolean;
  /**
   * How it is known that the changes are there: `faces` when the result is A + B − base face by face, `volumes` when
   * its differences from the inputs were measured.
   */
  readonly by: 'faces' | 'volumes';
  readonly changes: readonly {
    readonly id: string;
    /** Whether it was to be in the result. */
    readonly wanted: boolean;
    readonly volume_mm3: number;
    /** Of an added piece what is filled in the result, of a removed one what is empty there. */
    readonly present_mm3: number;
    readonly holds: boolean;
  }[];
  readonly balances: readonly {
    readonly against: 'base' | Remix;
    readonly added_mm3: number | null;
    readonly removed_mm3: number | null;
    readonly expected_added_mm3: number;
    readonly expected_removed_mm3: number;
    readonly holds: boolean;
  }[];
  readonly watertight: boolean;
  /** Pairs of faces that cross: in the result, and, where it has any, in each input. */
  readonly crossings: {
    readonly found: number;
    readonly base: number | null;
    readonly a: number | null;
    readonly b: number | null;
    readonly holds: boolean;
  };
  /** Bodies of the result, and how many the inputs let expect. */
  readonly bodies: {
    readonly found: number;
    readonly least: number;
    readonly most: number;
    readonly holds: boolean;
  };
}

/** Two remixes of one base, brought together. Keys are keys of `kinprint combine --json`. */
export interface Combination {
  readonly tolerance_mm: number;
  readonly touch_mm: number;
  readonly base: CombineInput;
  readonly a: CombineRemix;
  readonly b: CombineRemix;
  /** Those of A, then those of B. */
  readonly changes: readonly CombinedChange[];
  readonly conflicts: readonly CombineConflict[];
  /** Changes of A and B that come near each other without touching: what is left between them may be thin. */
  readonly nearest: { readonly a: string; readonly b: string; readonly gap_mm: number } | null;
  /** Changes of either remix that look like facets of a surface tessellated anew, and the tolerance that settles them. */
  readonly tessellated: Tessellated | null;
  /** null while a conflict is open. */
  readonly result: CombineResult | null;
  readonly proof: CombineProof | null;
  readonly notes: readonly Note[];
}
