import type { Vec3 } from '@kinprint/mesh';
import type { PackedMeshes } from '../geometry/packed.ts';

/** What the page carries of a part for its viewer, as JSON in a block that is never run. */
export interface PartData {
  /** Which surfaces there are, in the order of `geometry.meshes`; those of `regions` follow. */
  readonly sides: readonly Side[];
  /** Whether the mesh encloses its material, so that a cut through it can be filled. */
  readonly closed: Readonly<Record<Side, boolean>>;
  /** Each stands in a frame of its own: there is no distance between the two. */
  readonly apart: boolean;
  /** Surfaces nearer than this coincide. */
  readonly within_mm: number;
  readonly regions: readonly PartRegion[];
  readonly places: readonly PartPlace[];
  readonly geometry: PackedMeshes;
}

export type Side = 'before' | 'after';

export interface PartRegion {
  readonly kind: 'added' | 'removed';
  /** As in the list and the still picture, from 1. */
  readonly number: number;
  readonly label: string;
  readonly center_mm: Vec3;
  readonly size_mm: number;
}

/** A place to jump to that has no solid of its own: a bore that changed, a finding with a place. */
export interface PartPlace {
  readonly label: string;
  readonly at_mm: Vec3;
  readonly size_mm: number;
  /** Direction to look along; null where it does not matter. */
  readonly axis: Vec3 | null;
}
