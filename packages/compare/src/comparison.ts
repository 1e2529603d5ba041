import type { Feature, Note, Soundness, ThinPlace, Vec3 } from '@kinprint/mesh';

/**
 * The one-word class of a comparison.
 *
 * - `identical`: the same bytes, or the same triangles in any order.
 * - `same-shape`: the same surface within the tolerance, where it stands; triangulated differently.
 * - `moved`, `mirrored`, `rescaled`: the same surface within the tolerance after a motion, a reflection (and
 *   motion), or a scaling (and any of these).
 * - `reworked`: one shape recognisably made from the other, changed beyond the tolerance.
 * - `replaced`: different shapes; no forced fit is reported.
 * - `unsound`: the shapes differ and at least one has no volume, so what material changed cannot be said.
 */
export type Verdict =
  'identical' | 'same-shape' | 'moved' | 'mirrored' | 'rescaled' | 'reworked' | 'replaced' | 'unsound';

/** What an alignment alone can tell; only booleans find a comparison unsound. */
export type AlignedVerdict = Exclude<Verdict, 'unsound'>;

export type AlignmentKind = 'none' | 'identity' | 'rigid' | 'mirrored' | 'uniform-scale' | 'axis-scale';

/**
 * The affine map from BEFORE to AFTER: `after ≈ matrix · before`, column vectors.
 *
 * The linear part is `rotation · diag(scale)`, preceded by a reflection when `mirrored`.
 */
export interface Alignment {
  readonly kind: AlignmentKind;
  /** 4×4, rows first, last row 0 0 0 1. */
  readonly matrix: readonly [Vec4, Vec4, Vec4, Vec4];
  /** Motion of the center of BEFORE's bounds. */
  readonly translation_mm: Vec3;
  /** Angle of the rotation, 0…180. */
  readonly rotation_deg: number;
  /** Unit axis of the rotation; null when there is none. */
  readonly rotation_axis: Vec3 | null;
  /** Factors along BEFORE's axes, all positive. */
  readonly scale: Vec3;
  readonly mirrored: boolean;
  /** Share of both surfaces, 0…1, that coincides within the tolerance after the alignment. */
  readonly matched: number;
}
export type Vec4 = readonly [number, number, number, number];

/** Distance between the two surfaces after alignment. The maximum is the Hausdorff distance, bounded. */
export interface Deviation {
  /** Reached at `max_at_mm`: a true distance, so a lower bound of the Hausdorff distance. */
  readonly max_mm: number;
  /** The Hausdorff distance is proven to lie in [max_mm, max_mm + max_error_mm]. */
  readonly max_error_mm: number;
  /** Area-weighted over both surfaces. */
  readonly mean_mm: number;
  readonly rms_mm: number;
  readonly p95_mm: number;
  /** In the frame of AFTER. */
  readonly max_at_mm: Vec3;
  /** Which surface the maximum was measured from. */
  readonly max_from: 'before' | 'after';
}

/** One connected piece of material that was added or removed. In the frame of AFTER. */
export interface Region {
  readonly kind: 'added' | 'removed';
  readonly volume_mm3: number;
  readonly bounds_mm: { readonly min: Vec3; readonly max: Vec3 };
  readonly centroid_mm: Vec3;
  /** Largest distance of the region's surface from the other shape's surface: how deep the change goes. */
  readonly depth_mm: number;
  /** The feature the region touches or lies nearest to, in words and as data. */
  readonly nearest_feature: {
    readonly feature: Feature;
    readonly of: 'before' | 'after';
    readonly distance_mm: number;
  } | null;
}

export interface FeatureChange {
  /** BEFORE's feature carried into the frame of AFTER. */
  readonly before: Feature;
  readonly after: Feature;
  /** What differs, e.g. `diameter`, `length`, `place`, `axis`, `through`. */
  readonly what: readonly string[];
}

/** One side of a comparison, in short. */
export interface Side {
  readonly triangles: number;
  readonly vertices: number;
  readonly shells: number;
  readonly area_mm2: number;
  readonly size_mm: Vec3 | null;
}

/** One body (outer shell with its cavities) of a file that holds several. */
export interface BodyMatch {
  /** Index of the body in BEFORE and AFTER, null when added or dropped. */
  readonly before: number | null;
  readonly after: number | null;
  readonly verdict: Verdict | 'added' | 'removed';
  readonly alignment: Alignment | null;
  readonly volume_before_mm3: number | null;
  readonly volume_after_mm3: number | null;
}

/** What changed between two meshes. Keys are the keys of `kinprint compare --json`. */
export interface Comparison {
  readonly verdict: Verdict;
  readonly tolerance_mm: number;
  readonly before: Side;
  readonly after: Side;
  readonly alignment: Alignment;
  /** null when one side has no faces. */
  readonly deviation: Deviation | null;
  readonly volume: {
    readonly before_mm3: number | null;
    readonly after_mm3: number | null;
    readonly added_mm3: number | null;
    readonly removed_mm3: number | null;
  };
  readonly area: { readonly before_mm2: number; readonly after_mm2: number };
  readonly regions: readonly Region[];
  readonly features: {
    readonly changed: readonly FeatureChange[];
    readonly added: readonly Feature[];
    readonly removed: readonly Feature[];
  };
  readonly thinnest_wall: {
    readonly before_mm: number | null;
    readonly after_mm: number | null;
    readonly after_at: ThinPlace | null;
  };
  readonly overhang: { readonly before_mm2: number | null; readonly after_mm2: number | null };
  readonly soundness: { readonly before: Soundness; readonly after: Soundness };
  /** For the density asked for; null without volumes. */
  readonly mass: {
    readonly density_g_cm3: number;
    readonly before_g: number | null;
    readonly after_g: number | null;
    readonly change_g: number | null;
  };
  readonly bodies: readonly BodyMatch[];
  readonly notes: readonly Note[];
}
