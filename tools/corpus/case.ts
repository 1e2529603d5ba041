import type { AlignmentKind, Verdict } from '@kinprint/compare';
import type { Feature, Mesh, Vec3 } from '@kinprint/mesh';
import type { Affine } from '../demo/shapes/solid.ts';

/** A change of a feature that a comparison has to name. */
export interface ExpectedFeatureChange {
  readonly kind: Feature['kind'];
  readonly diameter_before_mm: number;
  readonly diameter_after_mm: number;
  /** How many features change so. */
  readonly count: number;
}

export interface ExpectedFeature {
  readonly kind: Feature['kind'];
  readonly diameter_mm: number;
  readonly count: number;
}

/** What is known of a pair from how it was made. A key that is absent is not claimed. */
export interface Expected {
  /** One of these. More than one only where the words' definitions allow both. */
  readonly verdicts: readonly Verdict[];
  readonly alignment?: {
    readonly kinds: readonly AlignmentKind[];
    /** The map from BEFORE to AFTER; absent where symmetry allows several. */
    readonly map?: Affine;
    /** How far the map may carry a corner of BEFORE's bounds astray; a micrometer or two where nothing is said. */
    readonly within_mm?: number;
    readonly mirrored: boolean;
    readonly scale?: Vec3;
    readonly rotation_deg?: number;
  };
  readonly volume?: {
    /** In AFTER's frame and scale. */
    readonly added_mm3: number;
    readonly removed_mm3: number;
    /** Allowed relative error: 32-bit coordinates give about 1e-4 of small changes. */
    readonly relative: number;
    /** How the figures are known. */
    readonly source: string;
  };
  readonly deviation?: { readonly max_mm: number; readonly within_mm: number; readonly source: string };
  readonly regions?: { readonly added: number; readonly removed: number };
  readonly changed?: readonly ExpectedFeatureChange[];
  readonly appeared?: readonly ExpectedFeature[];
  readonly gone?: readonly ExpectedFeature[];
  /** Verdicts body by body, sorted; for files that hold several. */
  readonly bodies?: readonly string[];
  /** Codes that must stand among the notes. */
  readonly notes?: readonly string[];
}

/** A pair of meshes that easy comparisons get wrong, with what is true of it. */
export interface CorpusCase {
  readonly name: string;
  readonly before: Mesh;
  readonly after: Mesh;
  readonly tolerance_mm?: number;
  readonly expect: Expected;
}

/** Two states of a folder, with what is true of its parts. */
export interface TreeCase {
  readonly name: string;
  readonly before: Readonly<Record<string, Mesh>>;
  readonly after: Readonly<Record<string, Mesh>>;
  /** Every part line expected, in any order. */
  readonly parts: readonly ExpectedPart[];
}

export interface ExpectedPart {
  readonly before: string | null;
  readonly after: string | null;
  /** One of these. */
  readonly pairings: readonly (
    'path' | 'content' | 'shape' | 'copy' | 'split' | 'gathered' | 'added' | 'removed'
  )[];
  readonly verdicts: readonly (Verdict | 'added' | 'removed')[];
}
