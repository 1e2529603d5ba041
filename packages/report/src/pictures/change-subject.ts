import type { Comparison } from '@kinprint/compare';
import type { Mesh } from '@kinprint/mesh';

/** What a picture of a change is made of. */
export interface ChangeSubject {
  /** What is compared, e.g. the part's name, and what each side is called. */
  readonly title: string;
  readonly before: string;
  readonly after: string;
  readonly comparison: Comparison;
  readonly meshes: {
    readonly before: Mesh;
    readonly after: Mesh;
    /** BEFORE in the frame of AFTER; left out where it was carried nowhere. */
    readonly carried?: Mesh;
    /** The surfaces of `comparison.regions`, in their order. */
    readonly regions?: readonly Mesh[];
  };
}

/**
 * Whether each state is shown as it stands: where the surfaces coincide after a motion, the motion is the change; and
 * shapes that have nothing in common have no frame in common either.
 */
export function standApart({ comparison: c, meshes }: ChangeSubject): boolean {
  return meshes.carried === undefined || c.deviation === null || c.deviation.max_mm <= c.tolerance_mm;
}
