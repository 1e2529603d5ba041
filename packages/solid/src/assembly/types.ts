import type { Affine, Bounds, Mesh, Vec3 } from '@kinprint/mesh';

/** A solid where it stands. Solids that are the same object of a mesh are handed to the kernel once. */
export interface PlacedSolid {
  readonly mesh: Mesh;
  /** A rigid motion; turns that mirror are not meant. */
  readonly placement: Affine;
}

/** One connected piece of space that two placed solids both claim, in the frame of the assembly. */
export interface InterferenceRegion {
  readonly volume_mm3: number;
  /** How far the deepest point of either surface lies inside the other solid. Attained; see `depth_most_mm`. */
  readonly depth_mm: number;
  /** What the depth can at most be: 1 % more, or farther where a surface was too intricate, or all surfaces coincide. */
  readonly depth_most_mm: number;
  readonly bounds_mm: Bounds;
  readonly centroid_mm: Vec3;
}

/** Two placed solids that claim the same space, by their indices; `a` comes first. */
export interface Interference {
  readonly a: number;
  readonly b: number;
  /** Of all regions together. */
  readonly volume_mm3: number;
  /** Of the deepest region. */
  readonly depth_mm: number;
  /** At least one; largest first. */
  readonly regions: readonly InterferenceRegion[];
}

export interface Interferences {
  /** By the indices of the two. */
  readonly found: readonly Interference[];
  /** Solids that enclose no volume, so that nothing can be told of them. */
  readonly unusable: readonly number[];
  /** Pairs that were looked at closely: whose boxes share space. */
  readonly pairs: number;
}

export interface InterferenceOptions {
  /** A region counts from this depth on; `defaults.contactDepth_mm` where left out. */
  readonly depth_mm?: number;
  /** … and from this volume on; `defaults.contactVolume_mm3` where left out. */
  readonly volume_mm3?: number;
}
