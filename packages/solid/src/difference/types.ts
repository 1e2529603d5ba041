import type { Bounds, Mesh, Note, Vec3 } from '@kinprint/mesh';

export interface MaterialOptions {
  /** Differences up to this size do not count. In mm, in the frame of AFTER. */
  readonly tolerance_mm: number;
  /**
   * Per face of BEFORE: 1 when it deviates from AFTER by more than the tolerance anywhere. Without flags every face
   * that the other mesh does not have counts as changed.
   */
  readonly changedBefore?: Uint8Array;
  /** The same per face of AFTER. */
  readonly changedAfter?: Uint8Array;
  /** `whole` forces the booleans over the whole meshes; for checks. */
  readonly method?: 'auto' | 'whole';
}

/** One connected piece of material that was added or removed, in the frame of AFTER. */
export interface MaterialRegion {
  readonly kind: 'added' | 'removed';
  readonly volume_mm3: number;
  /**
   * Of the part deeper than the tolerance: films that rounding leaves beside it do not count. Where very many regions
   * may carry films (surfaces with other facets all over), those with least shallow surface keep theirs.
   */
  readonly bounds_mm: Bounds;
  readonly centroid_mm: Vec3;
  /** Its closed surface, cavities included. */
  readonly mesh: Mesh;
}

export interface MaterialDifference {
  /** Sum over the added regions; null when a mesh encloses no volume or the result cannot be trusted (see notes). */
  readonly added_mm3: number | null;
  readonly removed_mm3: number | null;
  /** Largest first. */
  readonly regions: readonly MaterialRegion[];
  /**
   * Pieces and films nowhere deeper than the tolerance that the booleans left, added and removed
   * together. They are no regions and no part of the sums above. Where only neighborhoods were cut, theirs alone.
   */
  readonly slivers_mm3: number | null;
  /**
   * Volume after − before − added + removed: what differences within the tolerance account for. Null when the
   * volumes of the meshes are not those of their material, since shells may overlap.
   */
  readonly unattributed_mm3: number | null;
  /** How it was found: nothing changed, booleans in the changed neighborhoods, or booleans over everything. */
  readonly method: 'none' | 'local' | 'whole';
  readonly notes: readonly Note[];
}
